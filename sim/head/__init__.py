"""The double-Cardan head: how its bend splits, the catalogue of heads."""
