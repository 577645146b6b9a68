"""What a window shows and does, without a window: no Qt, no VTK."""
