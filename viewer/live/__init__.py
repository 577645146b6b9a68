"""The live view: what a session knows, in verbs for a stage. No Qt, no drawing library.

scene               all of it together: what the session says and the user does
bodies, preview     parts on the stage; what can be shown before there is an answer
marks, patch        rings, words, gap lines, touching skins
ghost               the version put aside
sight, eye          the views there are, and how the eye moves
floor, looks        level grid and the arrow forward; colours, pens and letters
"""
