"""The double-Cardan head: how its bend splits, when it touches."""
