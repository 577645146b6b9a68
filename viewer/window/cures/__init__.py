"""The cures of the rig, each to be tried on a press."""
