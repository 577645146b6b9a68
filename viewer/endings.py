"""How the program ends: its exit codes. Read before all else, so it reads nothing itself."""

CLEAR, TOUCHES, BAD_INPUT, STOPPED = 0, 1, 2, 130
"""Clear (or close); touches or runs out, and nothing else; something is wrong with what was asked,
or it could not be done; stopped by Ctrl+C."""
