"""True extremes and first crossings over the travel."""
