"""Files for the user: what may be replaced, and the writers of meshes, pictures and clips."""
