"""How far two statements of a rig file may differ, and what is still plausible.

All of it is common practice without a source, or from memory.
"""

from dataclasses import dataclass
from math import radians
from typing import Final

from sim.cardan import NEEDLES_ROLL

_IN: Final = 25.4


@dataclass(frozen=True)
class Limits:
    """Lengths in millimetres, angles in radians, times in seconds."""

    length: float = _IN / 8
    """Two lengths of one shaft that differ by more contradict each other; a tape along a shaft is
    good to 1/16 in."""

    offset: float = _IN / 4
    """The same for a height difference or a side offset, which are taken by plumb bob."""

    slope: float = radians(1.0)
    """The same for two slopes of one part; an angle finder is read to 1/2 deg or so."""

    shortest: float = 100.0
    """No driveshaft has its joints closer: two yokes alone are longer. Most likely a wrong unit,
    such as mm for in."""

    bend: float = radians(90.0)
    """A joint bent this far at ride height is a mistake in the directions, not a steep shaft."""

    fore_aft_least: float = 1.0 * _IN
    """An axle may move this far fore-aft between ride height and any reading."""

    fore_aft_share: float = 0.25
    """Fore-aft move that is plausible, as a share of the height between the readings: links and
    leaves of the usual lengths and slopes give about 1 in in 4 in."""

    steep: float = radians(30.0)
    """A bend at ride height that hardly a joint of the trade runs at."""

    straight: float = NEEDLES_ROLL
    """A bend at ride height under which the needles do not roll."""

    flipped: float = radians(1.5)
    """Bends that agree so well with one direction word swapped hint that it was swapped."""

    flipped_gain: float = radians(6.0)
    """Bends that disagree at least so much as typed, for that hint to be worth giving."""

    long_shaft: float = 70.0 * _IN
    """One-piece shafts end at about 65 to 70 in."""

    short_shaft: float = 12.0 * _IN
    """Shorter shafts exist only as links between two cases."""

    much_travel: float = 24.0 * _IN
    """Bump and droop together beyond this belong to few vehicles; more likely a wrong unit."""

    hanging: float = 0.25
    """Droop as a share of bump; a vehicle that stands on its wheels has hardly less (from
    memory)."""

    much_roll: float = radians(30.0)
    """Few axles cross up so far."""

    much_wrap: float = radians(15.0)
    """Wrap of worn and extreme leaf springs."""

    seat_away: float = 12.0 * _IN
    """A spring seat lies close to the axle; farther off, the wrong point was measured."""

    swapped: float = 6.0 * _IN
    """A link's axle end farther from the axle than its chassis end by more is its chassis end."""

    weak_hold: float = 0.15
    """mm that a move of the axle by 1 mm stretches its links at the least: links within about
    6 deg of square to the move do no more."""

    much_give: float = 3 / 8 * _IN
    """Few bushes give more without their metal meeting."""

    thing_takes: float = 0.25
    """s. What looking at a box or a pipe near the shaft takes, measured on one slow core."""

    mesh_takes: float = 2.5
    """s. The same for a mesh of some 100,000 triangles."""

    long_wait: float = 15.0
    """s. Nobody minds waiting so long for all things near the shaft."""


LIMITS: Final = Limits()
