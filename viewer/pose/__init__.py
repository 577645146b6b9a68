"""A pose as typed, drawn and written."""
