"""The line of the shaft: joint centres, bends and slip for axle poses; one file a layout."""

from sim.line.single import line
from sim.line.state import LineState

__all__ = ["LineState", "line"]
