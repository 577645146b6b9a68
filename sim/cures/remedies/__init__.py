"""The remedies: one class each, one line in `REMEDIES`."""

from typing import Final

from sim.cures.remedies.double_cardan import DoubleCardan
from sim.cures.remedies.heights import BearingHeight, OutputAndBearing, OutputDrop
from sim.cures.remedies.longer_shaft import LongerShaft
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedies.slip import LongerSlip, ResetSlip
from sim.cures.remedies.slip_in_shaft import SlipInShaft
from sim.cures.remedies.travel import BumpStops, LimitStraps
from sim.cures.remedies.two_piece import TwoPiece
from sim.cures.remedies.wrap import AntiWrapBar
from sim.cures.remedies.yokes import DeepThroat, OtherSize
from sim.cures.remedy import Remedy

__all__ = ["REMEDIES"]

REMEDIES: Final[tuple[Remedy, ...]] = (
    LimitStraps(),
    BumpStops(),
    ResetSlip(),
    PinionTurn(),
    OutputDrop(),
    BearingHeight(),
    OutputAndBearing(),
    AntiWrapBar(),
    LongerShaft(),
    DoubleCardan(),
    DeepThroat(),
    OtherSize(),
    LongerSlip(),
    SlipInShaft(),
    TwoPiece(),
)
"""In the order in which they are tried."""
