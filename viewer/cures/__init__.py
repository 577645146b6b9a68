"""The cures as text, JSON and table."""
