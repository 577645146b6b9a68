"""Shapes and touching. Knows nothing of vehicles."""
