"""Rig files: open, save, and never losing what somebody typed."""
