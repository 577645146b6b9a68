"""Moving the axle: by slider, by typing, or through a drive."""
