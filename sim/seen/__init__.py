"""What is seen and measured on a failed joint: the inspection file, its words, its signs."""
