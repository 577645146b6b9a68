"""A yoke by caliper: the talk, the form, and drawings of what to measure."""
