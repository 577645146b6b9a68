"""The shop's own joint: readings from the bench, and the yokes that agree with them."""
