"""How far off each measurement of a rig may be: as typed, by its tool, or as is usual."""
