"""The customer's screen: one shaft, large words, two sliders, a picture to take home."""
