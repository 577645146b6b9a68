"""Causes and signs as a graph of odds, and the question that settles most."""
