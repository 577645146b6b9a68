"""The live view: what a session knows, in verbs for a stage. No Qt, no drawing library.

scene               all of it together: puts up the parts of a rig once, moves and marks them
preview             what can be shown before there is an answer
marks, patch        rings, words, gap lines, touching skins
ghost               the version put aside
sight, eye          the views there are, and how the eye moves
floor, looks        level grid and the arrow forward; colours, pens and letters
"""
