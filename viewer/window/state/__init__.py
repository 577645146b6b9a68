"""What holds, in words: in the pose that is shown and over the whole travel."""
