"""What was seen on a truck and on its visits, as text and JSON."""
