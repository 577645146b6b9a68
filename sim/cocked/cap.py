"""One cap over a turn, driven and held back: where its trunnion is pressed, and how hard."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, pi
from typing import Final, Literal

import numpy as np

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked.balance import FAST, Balance, Held, balance
from sim.cocked.life import reference_life
from sim.cocked.seat import STRAIGHT, Seat
from sim.cocked.slices import Row
from sim.cocked.turning import CapTurn
from sim.frames import FloatArray, read_only

Way = Literal["drive", "coast"]
End = Literal["inner", "outer"]

MARKED: Final = 1.25
"""Times the straight cap's greatest slice from which a corner counts as one (judgement)."""

ALIKE: Final = 0.8
"""Share of the greater from which two peaks are told as alike (judgement)."""

AT_END: Final = 0.25
"""Share of a needle's length at either end that is its corner."""

PLACES: Final = 180
"""Of the pressure map round the trunnion, every 2 deg."""


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
class PressureMap:
    """The greatest pressure that comes over each place of a trunnion in a turn.

    Attributes
    ----------
    angle : (m,) rad from the middle of the side that carries on drive, toward the yoke's shaft.
    along : (k,) mm from the middle of the needles, outward.
    pressure : (m, k) MPa; nothing where no needle comes by.
    """

    angle: FloatArray
    along: FloatArray
    pressure: FloatArray


@dataclass(frozen=True, eq=False)
class CapResult:
    """What one cap comes to.

    Attributes
    ----------
    seat : how it sits.
    held : what held it against being brought back by its needles.
    tilt : rad it leans in its yoke at most over the turn, under load.
    force : N, the greatest over a turn.
    corner_ratio : its greatest slice over the mean of the straight cap's most loaded needle under
        the same force; `straight_ratio` is that of the straight cap itself.
    corners : those that stand out, the worst first.
    peak_mpa, straight_mpa : greatest pressure on the trunnion at the everyday torque, and that of a
        straight cap.
    hard_mpa, straight_hard_mpa : the same at the hardest pull.
    life_ratio : its reference life over that of the straight cap, at the everyday torque.
    eased_ratio, eased_life_ratio : corner ratio and life ratio where its ear gives as generic steel
        does, so that the needles bring it back somewhat; what is told without that is a bound.
    needles : N on each needle at the moment and way of the greatest slice, by slices, (z, k), with
        their places from the middle of the drive side, (z,).
    map : of the trunnion, both ways together, at the everyday torque.
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
    eased_ratio: float
    eased_life_ratio: float
    needle_angles: FloatArray
    needle_force: FloatArray
    map: PressureMap

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


@dataclass(frozen=True, eq=False)
class _Turned:
    """A row over a turn each way."""

    row: Row
    turn: CapTurn
    ways: dict[Way, Balance]

    @property
    def force(self) -> FloatArray:
        """(2 n, z, k) N, drive before coast."""
        return np.concatenate([found.force for found in self.ways.values()])

    @property
    def greatest(self) -> float:
        """N on the worst slice."""
        return float(self.force.max())

    @property
    def life(self) -> float:
        """Reference life, weighed by how much the cap turns on its trunnion."""
        return reference_life(self.row, self.force, np.tile(self.turn.rolls, len(self.ways)))

    @property
    def peak(self) -> float:
        """Greatest pressure, MPa."""
        return float(self.row.pressure(self.force).max())


def cap_result(
    row: Row, straight: Row, seat: Seat, turn: CapTurn, harder: float, held: Held, bed: float
) -> CapResult:
    """Turn one cap once each way at the everyday torque, and at `harder` times it.

    row, straight : its needles as they are, and as they would be in order.
    held : what holds it against being brought back. bed : N mm a rad that its ear would give by.
    """
    found, even = _turned(row, seat, turn, held), _turned(straight, STRAIGHT, turn, FAST)
    pulled = CapTurn(turn.spin, harder * turn.force, turn.swing, turn.rolls)
    hard = _turned(row, seat, pulled, held)
    hard_even = _turned(straight, STRAIGHT, pulled, FAST)
    mean = float(even.force.sum(axis=2).max()) / straight.count
    way = max(found.ways, key=lambda w: float(found.ways[w].force.max()))
    worst = found.ways[way]
    moment = int(np.argmax(worst.force.max(axis=(1, 2))))
    gives = _turned(row, seat, turn, Held(min(bed, held.stiffness), held.loose))
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
        eased_ratio=gives.greatest / mean,
        eased_life_ratio=gives.life / even.life,
        needle_angles=read_only(_wrapped(worst.angle[moment] - turn.swing[moment])),
        needle_force=read_only(worst.force[moment]),
        map=_map(found),
    )


def _turned(row: Row, seat: Seat, turn: CapTurn, held: Held) -> _Turned:
    rolled = turn.swing * 0.5 * (1.0 - row.needles.gamma)
    ways: dict[Way, Balance] = {
        "drive": balance(row, turn.load(), -np.array(seat.drive), rolled, held),
        "coast": balance(row, turn.load(drives=False), -np.array(seat.coast), rolled, held),
    }
    return _Turned(row, turn, ways)


def _corners(found: _Turned, mean: float, straight: float) -> tuple[Corner, ...]:
    """Ends of the needles that carry more than the straight cap's, by way and end."""
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
            ratio = float(peak[moment, needle]) / mean
            if ratio < MARKED * straight:
                continue
            later = (int(moment) + len(peak) // 2) % len(peak)
            same = peak[later].max() >= ALIKE * max(peak[moment].max(), other[later].max())
            angle = each.angle[moment, needle] - turn.swing[moment]
            at = float(_wrapped(angle))
            corners.append(Corner(way, end, at, ratio, end if same else opposite))
    return tuple(sorted(corners, key=lambda c: -c.ratio))


def _map(found: _Turned) -> PressureMap:
    """Pressure over the places of the trunnion that a needle comes by in the turn."""
    row, turn = found.row, found.turn
    angle: FloatArray = (np.arange(PLACES, dtype=np.float64) + 0.5) * (2.0 * pi / PLACES) - pi
    # Against the trunnion, the needles roll back by this much; a place sees those that pass it.
    rolled: FloatArray = -0.5 * (1.0 + row.needles.gamma) * turn.swing
    passed = _passed(row, angle, rolled)
    most = np.zeros((PLACES, row.count))
    for each in found.ways.values():
        force, _ = row.carried(each.moved, each.leans, angle + turn.swing[:, None])
        most = np.maximum(most, (force * passed[:, :, None]).max(axis=0))
    return PressureMap(read_only(angle), row.along, read_only(row.pressure(most)))


def _passed(row: Row, angle: FloatArray, rolled: FloatArray) -> FloatArray:
    """(n, m) whether a needle comes over a place between half a moment before and after."""
    before, after = (0.5 * (rolled + np.roll(rolled, shift)) for shift in (1, -1))
    low, high = np.minimum(before, after), np.maximum(before, after)
    low, high = np.minimum(low, rolled), np.maximum(high, rolled)
    near = pi / len(angle)
    gap = np.full((len(rolled), len(angle)), inf)
    for needle in row.angles:
        off = _wrapped(angle[None, :] - needle - 0.5 * (low + high)[:, None])
        gap = np.minimum(gap, np.abs(off) - 0.5 * (high - low)[:, None])
    return np.asarray(gap <= near)


def _wrapped(angle: FloatArray) -> FloatArray:
    """Between minus and plus half a turn."""
    return np.asarray((np.asarray(angle) + pi) % (2.0 * pi) - pi)
