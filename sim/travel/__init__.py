"""Which poses the axle can reach."""
