"""It shakes: a few questions, and what it most likely is."""
