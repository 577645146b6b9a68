"""Where metal met: patches of contact on the parts, from the travel and back to it."""

from sim.marks.backward import Backward, backward
from sim.marks.crosses import YokeSide
from sim.marks.marks import Mark, Marks, marks_of
from sim.marks.overlap import Overlap, Placed, SeenMark, overlap

__all__ = [
    "Backward",
    "Mark",
    "Marks",
    "Overlap",
    "Placed",
    "SeenMark",
    "YokeSide",
    "backward",
    "marks_of",
    "overlap",
]
