"""One cap over a turn, driven and held back: where its trunnion is pressed, and how hard."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import Final, Literal

import numpy as np

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked.balance import FAST, Held
from sim.cocked.seat import STRAIGHT, Seat
from sim.cocked.slices import Row
from sim.cocked.turned import PressureMap, RowTurned, Way, row_turned, wrapped
from sim.cocked.turning import CapTurn
from sim.frames import FloatArray

End = Literal["inner", "outer"]

MARKED: Final = 1.25
"""Times the straight cap's greatest slice from which a corner counts as one (judgement)."""

ALIKE: Final = 0.8
"""Share of the greater from which two peaks are told as alike (judgement)."""

AT_END: Final = 0.25
"""Share of a needle's length at either end that is its corner (judgement)."""


@dataclass(frozen=True)
class Corner:
    """A corner of a trunnion that is pressed harder than the rest.

    Attributes
    ----------
    way : while the engine drives or while it holds back.
    end : nearer the cross, or nearer the cap's bottom.
    angle : where it is worst round the trunnion, rad from the middle of the side that carries on
        drive toward the yoke's own shaft.
    ratio : its greatest slice over the mean of the straight cap's most loaded needle.
    again : which end is pressed half a turn later.
    """

    way: Way
    end: End
    angle: float
    ratio: float
    again: End


@dataclass(frozen=True, eq=False)
class CapResult:
    """What one cap comes to.

    Attributes
    ----------
    seat : how it sits.
    held : what held it against being brought straight by its needles.
    tilt : rad it leans in its yoke at most over the turn, under load.
    force : N, the greatest over a turn.
    corner_ratio : its greatest slice over the mean of the straight cap's most loaded needle under
        the same force; `straight_ratio` is that of the straight cap itself.
    corners : those that stand out, the worst first.
    peak_mpa, straight_mpa : greatest pressure on the trunnion at the everyday torque, and that of a
        straight cap.
    hard_mpa, straight_hard_mpa : the same at the hardest pull.
    life_ratio : its reference life over that of the straight cap, at the everyday torque.
    forced_ratio, forced_life_ratio : corner ratio and life ratio where nothing of that gives, and
        it stays as its seat tips it: a bound.
    everyday, pulled : its needles over the turn at either torque.
    """

    seat: Seat
    held: Held
    tilt: float
    force: float
    corner_ratio: float
    straight_ratio: float
    corners: tuple[Corner, ...]
    peak_mpa: float
    straight_mpa: float
    hard_mpa: float
    straight_hard_mpa: float
    life_ratio: float
    forced_ratio: float
    forced_life_ratio: float
    everyday: RowTurned = field(repr=False)
    pulled: RowTurned = field(repr=False)

    @cached_property
    def map(self) -> PressureMap:
        """The pressure on its trunnion, both ways together, at the everyday torque."""
        return self.everyday.map

    @property
    def needles(self) -> tuple[FloatArray, FloatArray]:
        """Load along every needle at the worst moment of a turn, at the everyday torque.

        Their places (z,) from the middle of the drive side, rad, and N on each slice, (z, k).
        """
        return self.everyday.worst

    @property
    def tilt_mrad(self) -> float:
        """Thousandths of a rad."""
        return 1e3 * self.tilt

    @property
    def dents(self) -> bool:
        """Whether the hardest pull passes what hardened steel takes without a lasting dent."""
        return self.hard_mpa > STATIC_PRESSURE

    @property
    def dents_by_tilt(self) -> bool:
        """Whether it does so only because the cap sits crooked."""
        return self.dents and not self.straight_hard_mpa > STATIC_PRESSURE


def cap_result(
    row: Row, straight: Row, seat: Seat, turn: CapTurn, harder: float, held: Held
) -> CapResult:
    """Turn one cap once each way at the everyday torque, and at `harder` times it.

    row, straight : its needles as they are, and as they would be in order.
    held : what holds it against being brought straight by its needles.
    """
    found, even = row_turned(row, seat, turn, held), row_turned(straight, STRAIGHT, turn, FAST)
    pulled = CapTurn(turn.spin, harder * turn.force, turn.swing, turn.rolls)
    hard = row_turned(row, seat, pulled, held)
    hard_even = row_turned(straight, STRAIGHT, pulled, FAST)
    mean = float(even.force.sum(axis=2).max()) / straight.count
    forced = row_turned(row, seat, turn, FAST)
    return CapResult(
        seat=seat,
        held=held,
        tilt=max(float(np.hypot(*each.leans.T).max()) for each in found.ways.values()),
        force=float(turn.force.max()),
        corner_ratio=found.greatest / mean,
        straight_ratio=even.greatest / mean,
        corners=_corners(found, mean, even.greatest / mean),
        peak_mpa=found.peak,
        straight_mpa=even.peak,
        hard_mpa=hard.peak,
        straight_hard_mpa=hard_even.peak,
        life_ratio=found.life / even.life,
        forced_ratio=forced.greatest / mean,
        forced_life_ratio=forced.life / even.life,
        everyday=found,
        pulled=hard,
    )


def _corners(found: RowTurned, mean: float, straight: float) -> tuple[Corner, ...]:
    """Ends of the needles that carry more than the straight cap's, by way and end.

    More than the straight cap's mean, and more than the same needle's own: a needle that carries
    more all along, such as beside one that is lost, has no corner.
    """
    row, turn = found.row, found.turn
    corner = np.abs(row.along) > (0.5 - AT_END) * row.needles.length
    ends: tuple[tuple[End, End, float], ...] = (("inner", "outer", -1.0), ("outer", "inner", 1.0))
    corners = []
    for way, each in found.ways.items():
        for end, opposite, side in ends:
            peak, other = (
                each.force[:, :, corner & (way_out * row.along > 0.0)].max(axis=2)
                for way_out in (side, -side)
            )
            moment, needle = np.unravel_index(int(np.argmax(peak)), peak.shape)
            most, of_needle = float(peak[moment, needle]), float(each.force[moment, needle].sum())
            ratio, uneven = most / mean, most * float(row.bears.sum()) / max(of_needle, 1e-9)
            if min(ratio, uneven) < MARKED * straight:
                continue
            later = (int(moment) + len(peak) // 2) % len(peak)
            same = peak[later].max() >= ALIKE * max(peak[moment].max(), other[later].max())
            angle = each.angle[moment, needle] - turn.swing[moment]
            at = float(wrapped(angle))
            corners.append(Corner(way, end, at, ratio, end if same else opposite))
    return tuple(sorted(corners, key=lambda c: -c.ratio))
