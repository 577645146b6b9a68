"""The travel map and the turn strip as numbers and shapes."""
