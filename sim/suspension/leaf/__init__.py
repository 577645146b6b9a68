"""The axle on two leaf springs."""
