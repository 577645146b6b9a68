"""The rig as a sheet to type on, and how a new one is begun."""
