"""The rig as a sheet of fields: what is shown, what is typed, which yoke is chosen."""
