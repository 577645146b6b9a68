"""The line of the shaft: joint centres, bends and slip for axle poses; one file a layout."""

from sim.line.limits import Margins, margins
from sim.line.single import line
from sim.line.state import LineState
from sim.line.turn import (
    FreeTurn,
    TurnState,
    free_turn,
    limit_by_spin,
    running,
    shafts,
    still_spin,
    turn,
)

__all__ = [
    "FreeTurn",
    "LineState",
    "Margins",
    "TurnState",
    "free_turn",
    "limit_by_spin",
    "line",
    "margins",
    "running",
    "shafts",
    "still_spin",
    "turn",
]
