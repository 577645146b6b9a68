"""The joint apart: what is seen is marked on it, and the answer follows."""
