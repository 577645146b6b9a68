"""Grinding a joint: what is gained, as text, JSON and picture."""
