"""A yoke of one's own as text, picture and lines for a rig file."""
