"""What charts have in common: hatching, words, a legend, the choice over them."""
