"""The commands of the command line, one file each, imported only when asked for."""
