"""A cap that sits crooked: its seat, its needles in slices, the pressure on the trunnion."""
