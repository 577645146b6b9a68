"""How sure an answer is, and what to measure next, as text and JSON."""
