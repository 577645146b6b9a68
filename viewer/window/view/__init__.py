"""The shaft in 3D, and how mouse and keys move it."""
