"""The built parts of a joint, single or double, and when they touch."""
