"""The travel map: axle height across, wrap up, and what is left at each place."""
