"""Data shipped with the program: the catalogue of generic parts and the demo rigs."""
