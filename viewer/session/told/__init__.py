"""What holds, in words that a panel shows and a test reads."""
