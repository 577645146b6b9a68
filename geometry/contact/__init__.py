"""How near two bodies are: distance, gap, first touch, clearance."""
