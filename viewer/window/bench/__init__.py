"""Bench readings in the window: asked, drawn, and what they make of the joint."""
