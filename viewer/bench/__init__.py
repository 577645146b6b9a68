"""Bench readings of a joint: the talk, how each is taken, and what came of them."""
