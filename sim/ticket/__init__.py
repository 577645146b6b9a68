"""The build ticket: what to cut, what the shaft bears, how fast it may turn, what its owner heeds.

One concept a file; everything in one frozen object from `build_ticket`.
"""
