"""Which poses the axle can reach, and what a pose takes of it."""
