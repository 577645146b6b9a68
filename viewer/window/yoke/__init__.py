"""Choosing a yoke by its picture, with a drawing of where each dimension is taken."""
