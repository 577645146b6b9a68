"""From where on a reading is a sign, and how far two readings may differ.

All of it is common practice without a source, or from memory.
"""

from dataclasses import dataclass
from math import radians
from typing import Final

from sim.table.loads import MILE
from sim.units import MM_PER_INCH

_IN: Final = float(MM_PER_INCH)


@dataclass(frozen=True)
class SeenLimits:
    """Lengths in millimetres, angles in radians."""

    clearance: float = 0.002 * _IN
    """What a joint and its seats may have of clearance; a bore that is out of round, out of line
    or worn by more is a fault."""

    spread: float = 0.010 * _IN
    """Ears that stand farther apart at the tips than at the root by more are spread: both faces
    are machined square in one setting, and a caliper is good to half of it."""

    float_: float = 0.05
    """End float of a cap; vehicle manuals allow 0 to 0.05 mm."""

    play: float = radians(0.5)
    """Free play at the tube that a hand feels; a sound joint has none."""

    soon: float = 12_000.0 * MILE
    """A joint that is gone within so little of road did not wear by its years."""

    not_soon: float = 25_000.0 * MILE
    """From here on nobody calls it soon, and what was put in wrong would have shown; in between it
    is soon on the highway, and years on a trail."""

    few: float = 15_000.0 * MILE
    """No greased joint is worn out by so little, whatever it does."""

    many: float = 60_000.0 * MILE
    """A joint that has run so far has done its work. In between it hangs on load, dirt and
    grease: what is hard work for one truck is half a life for another."""

    due: float = 5_000.0 * MILE
    """A joint that was greased within so little of road is not one that never was; that is the
    longest between two greasings on the street."""

    tilt: float = radians(0.1)
    """A cap out of line with its trunnion by more sits crooked to the eye: 0.002 in on an inch."""

    far_apart: float = 0.100 * _IN
    """Two readings of one diameter that differ by more are mistyped: no part wears so far and
    still turns."""


LIMITS: Final = SeenLimits()
