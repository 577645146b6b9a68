"""Where metal met: patches of contact on the parts, from the travel and back to it."""
