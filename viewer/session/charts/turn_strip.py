"""The turn strip: the gap against the turn of the shaft in one pose, found little by little."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import tau

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.contact.gap import Gap
from geometry.contact.touch import TouchCurve
from geometry.tolerances import TOL
from sim.assessment import JointRoom
from sim.check import Check
from sim.findings import Verdict
from sim.line import limit_by_spin, turn
from sim.pose import PosedJoint
from sim.vehicle import Joint, Pose

Floats = NDArray[np.float64]

SPINS = 48
"""Places over the full turn: every 7.5 deg."""

FINER = 8
"""Turns for each of these at which it is told whether it is clear there."""


@dataclass(frozen=True)
class Spot:
    """A tight spot: turn of the output yoke, and the bend left there, both rad.

    spare : rad, as in `Left`.
    """

    spin: float
    left: float
    spare: float = 0.0

    @property
    def verdict(self) -> Verdict:
        """Verdict at this turn."""
        return here_verdict(self.left, self.spare)


@dataclass(frozen=True, eq=False)
class Left:
    """What is left of a bend at some turns of a joint, (...) rad.

    Attributes
    ----------
    left : until metal meets.
    spare : until less is left than is wanted of bend or gap; negative where there is less.
    """

    left: Floats
    spare: Floats


def left_at(room: JointRoom, bend: ArrayLike, own: ArrayLike) -> Left:
    """What is left at bends and the joint's own spins (...), both rad."""
    touch, keeps = (
        limit_by_spin(*certified(curve))(_floats(own)) for curve in (room.touch, room.keeps)
    )
    at, close = _floats(bend), np.minimum(touch - room.wanted_bend, keeps)
    return Left(_floats(touch - at), _floats(close - at))


def here_verdict(left: float, spare: float) -> Verdict:
    """Verdict at one turn, from what is left there, as in `Left`."""
    if not left > 0.0:
        return "touches"
    return "clear" if spare >= 0.0 else "close"


def verdict_here(joint: PosedJoint, gap: Gap | None = None) -> Verdict:
    """Verdict on a joint at its very turn.

    gap : what is seen there, once it is known. Metal in metal touches; where there is more room
    than what counts as touching, what is not proved clear is close.
    """
    if gap is not None and gap.overlaps:
        return "touches"
    here = left_at(joint.room, joint.bend, joint.spin)
    verdict = here_verdict(float(here.left), float(here.spare))
    is_open = gap is not None and gap.distance > TOL.touching
    return "close" if is_open and verdict == "touches" else verdict


@dataclass(eq=False)
class TurnStrip:
    """Gap of one joint against the turn of the output yoke.

    Attributes
    ----------
    joint, at : which joint in which pose.
    spin : (n,) rad, turn of the output yoke over [0, 2 pi).
    left : (n,) rad, bend left at that spin, by `certified`: known at once.
    around : (m,) the least that is left around each of finer turns.
    gap : (n,) mm, nan until found; 0 where the bodies overlap.
    spots : places with less left than on either side. They may lie between two spins: what is
        left at the tightest is what is left of the joint at any turn.
    """

    joint: Joint
    at: Pose
    spin: Floats
    left: Floats
    around: Left
    gap: Floats
    spots: tuple[Spot, ...]

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """Verdict around each of the finer turns."""
        return tuple(map(here_verdict, self.around.left.tolist(), self.around.spare.tolist()))

    @property
    def tightest(self) -> Spot:
        """The spot with the least left."""
        return min(self.spots, key=lambda spot: spot.left)


def certified(curve: TouchCurve) -> Floats:
    """Course (2, m) of a touch curve that counts as its limit, rad.

    Lowered all along so that the least is the certified clear bend: every part of the window then
    tells the same number.
    """
    if curve.first is None:
        return curve.course
    spin, bend = curve.course
    return np.stack([spin, bend - max(0.0, float(bend.min()) - curve.certified_clear)])


class StripWork:
    """A strip being found: `run` asks one gap at a time, the coarse picture first."""

    def __init__(self, check: Check, joint: Joint, at: Pose, spins: int = SPINS) -> None:
        self.check = check
        vehicle = check.derivation.vehicle
        spin = _floats(np.arange(spins) * (tau / spins))
        state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
        room = check.joints[joint].room
        self._bend, self._own = (_floats(each) for each in state.turns[joint])
        left = left_at(room, self._bend, self._own).left
        # What is left is least at corners of the curves, and they lie between the turns.
        turned, ends = np.append(np.unwrap(self._own), self._own[0] + tau), np.append(spin, tau)
        fine = _floats(np.arange(spins * FINER) * (tau / spins / FINER))
        own = [room.touch.course[0], room.keeps.course[0], np.interp(fine, ends, turned)]
        asked = turned[0] + (np.concatenate(own) - turned[0]) % tau
        there = left_at(room, float(self._bend[0]), asked)
        places = _floats(np.interp(asked, turned, ends))
        around = Left(*(_least(places, each, len(fine)) for each in (there.left, there.spare)))
        spots = tuple(_spots(places, there, spins))
        self.strip = TurnStrip(joint, at, spin, left, around, np.full(spins, np.nan), spots)
        self._hardware = check.joints[joint].hardware
        self._steps = self._ask()

    def run(self) -> bool:
        """Find one more gap; whether there was one left to find."""
        return next(self._steps, None) is not None

    def _ask(self) -> Iterator[int]:
        for i in coarse_first(len(self.strip.spin)):
            bend = float(self._bend[i])
            if np.isfinite(bend) and bend <= TOL.bend_limit:
                found = self._hardware.gap_at(bend, float(self._own[i]))
                self.strip.gap[i] = 0.0 if found.overlaps else found.distance
            yield i


def _least(places: Floats, values: Floats, count: int) -> Floats:
    """The least of values (m,) at turns (m,) rad, around each of `count` turns."""
    least = np.full(count, np.inf)
    np.minimum.at(least, _nearest(places, count), values)
    return least


def _nearest(places: Floats, count: int) -> NDArray[np.intp]:
    return np.rint(places / (tau / count)).astype(np.intp) % count


def _spots(places: Floats, there: Left, count: int) -> Iterator[Spot]:
    """The tight spots: each the least of what is left at turns (m,) rad around one of `count`."""
    left, nearest = _least(places, there.left, count), _nearest(places, count)
    lower = (left < np.roll(left, 1)) & (left <= np.roll(left, -1))
    if not lower.any():  # as much is left all the way round
        lower[int(left.argmin())] = True
    for i in np.flatnonzero(lower):
        k = np.flatnonzero((nearest == i) & (there.left == left[i]))[0]
        yield Spot(float(places[k]) % tau, float(there.left[k]), float(there.spare[k]))


def _floats(values: ArrayLike) -> Floats:
    return np.asarray(values, dtype=np.float64)


def coarse_first(count: int) -> list[int]:
    """Indices 0 to count - 1, each pass between those of the passes before."""
    order: list[int] = []
    seen = set()
    stride = 1
    while stride * 2 < count:
        stride *= 2
    while stride:
        for i in range(0, count, stride):
            if i not in seen:
                seen.add(i)
                order.append(i)
        stride //= 2
    return order
