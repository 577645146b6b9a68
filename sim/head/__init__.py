"""The double-Cardan head: how its bend splits, how uneven it is, when it touches."""
