"""The turn strip: the gap against the turn of the shaft in one pose, found little by little."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import tau

import numpy as np
from numpy.typing import ArrayLike, NDArray

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


def verdict_here(joint: PosedJoint) -> Verdict:
    """Verdict on a joint at its very turn."""
    here = left_at(joint.room, joint.bend, joint.spin)
    return here_verdict(float(here.left), float(here.spare))


@dataclass(eq=False)
class TurnStrip:
    """Gap of one joint against the turn of the output yoke.

    Attributes
    ----------
    joint, at : which joint in which pose.
    spin : (n,) rad, turn of the output yoke over [0, 2 pi).
    left : (n,) rad, bend left at that spin, by `certified`: known at once.
    around : the least of what is left, of the turns that are nearest to each of these.
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
        """Verdict around each turn."""
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
        # The curve is least at its corners, and they lie between the turns.
        corners = np.unique(np.concatenate([room.touch.course[0], room.keeps.course[0], self._own]))
        there = left_at(room, float(self._bend[0]), corners)
        places = _turns_at(corners, spin, self._own)
        around, spots = _around(places, there, spins)
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


def _turns_at(asked: Floats, spin: Floats, own: Floats) -> Floats:
    """Turns (m,) of the output yoke where a joint is turned as asked (m,); both rad.

    spin, own : (n,) rad, turns of the output yoke over [0, 2 pi) and of the joint itself.
    """
    turned = np.append(np.unwrap(own), own[0] + tau)
    return _floats(np.interp(turned[0] + (asked - turned[0]) % tau, turned, np.append(spin, tau)))


def _around(places: Floats, there: Left, count: int) -> tuple[Left, tuple[Spot, ...]]:
    """What is left least around each of so many turns, and the tight spots among them.

    places : (m,) rad, turns of the output yoke, with one at least around each. there : left there.
    """
    nearest = np.rint(places / (tau / count)).astype(int) % count
    left, spare = np.full(count, np.inf), np.full(count, np.inf)
    np.minimum.at(left, nearest, there.left)
    np.minimum.at(spare, nearest, there.spare)
    lower = (left < np.roll(left, 1)) & (left <= np.roll(left, -1))
    if not lower.any():  # as much is left all the way round
        lower[int(left.argmin())] = True
    tight = [
        np.flatnonzero((nearest == i) & (there.left == left[i]))[0] for i in np.nonzero(lower)[0]
    ]
    return Left(left, spare), tuple(
        Spot(float(places[k]) % tau, float(there.left[k]), float(there.spare[k])) for k in tight
    )


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
