"""What a window shows and does, without a window: no Qt, no VTK.

session             all of it together
document            the rig file's text, every version of it, what is wrong with it
history, edits      undo and redo; typing a value into a text
motion, drives      pose and turn, by hand or played
answers, worker     the check, computed in a process of its own
pose_now            what holds in one pose, at once
travel_map          room left over height and wrap
turn_strip          gap against the turn of the shaft
"""
