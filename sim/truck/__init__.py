"""What was seen on the truck, held against what is computed for it."""
