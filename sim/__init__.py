"""Motion and engineering of a driveshaft. No pictures, no Qt, no VTK."""
