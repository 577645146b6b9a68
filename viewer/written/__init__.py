"""Files for the user: what may be replaced, and the writers of meshes and pictures."""
