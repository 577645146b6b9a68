"""Generic parts by name, and the shop's own by caliper."""
