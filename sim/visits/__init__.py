"""One truck measured on several days: what moved between two of them."""
