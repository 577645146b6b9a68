"""A shake, asked for in plain words and answered as text and JSON."""
