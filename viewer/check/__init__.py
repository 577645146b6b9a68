"""The answer as text, JSON, table and picture."""
