"""True extremes and first crossings over the travel, and what these take of the axle."""
