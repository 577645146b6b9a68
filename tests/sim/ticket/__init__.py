"""The build ticket."""
