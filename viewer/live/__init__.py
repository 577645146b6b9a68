"""The live view: what a session knows, in verbs for a stage. No Qt, no drawing library.

scene               all of it together: builds parts once, moves them, marks what matters
part, facts         a part, what it is called and what is told of it
mount               what a part hangs on: from the frames of a pose to the part's own
shaft_parts         shaft, case and axle housing
around_parts, leaf  things nearby, links and springs
preview             what can be shown before there is an answer
marks, patch        rings, words, gap lines, touching skins, metal that would have to give
ghost               the version put aside
sight, eye          the views there are, and how the eye moves
floor, looks        level grid and the arrow forward; colours, pens and letters
"""
