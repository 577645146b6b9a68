"""The rig file as text: every version of it, where it lies, the files it names."""
