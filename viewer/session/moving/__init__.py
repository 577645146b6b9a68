"""Where the axle is and how the shaft is turned: by hand, by typing, or through a drive."""
