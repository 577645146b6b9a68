"""The close-up: the tightest joint cut open through the place where it meets, live."""
