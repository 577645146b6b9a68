"""What is seen on a failed joint, asked for and written down; its words and their pictures."""
