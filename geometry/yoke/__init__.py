"""Yokes: one file a kind."""
