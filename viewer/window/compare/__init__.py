"""Two versions of the rig side by side."""
