"""What lives near the shaft, and how near what turns comes to it."""
