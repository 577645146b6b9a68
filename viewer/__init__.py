"""Every way to see a result."""
