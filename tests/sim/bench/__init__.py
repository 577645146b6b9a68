"""The shop's own joint: what may be off of its shape, and what that does to its touch."""
