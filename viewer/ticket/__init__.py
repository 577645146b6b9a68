"""The build ticket as text, picture and JSON."""
