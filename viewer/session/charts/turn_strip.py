"""The turn strip: the gap against the turn of the shaft in one pose, found little by little."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import tau

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.contact.touch import TouchCurve
from geometry.tolerances import TOL
from sim.assessment import JointRoom
from sim.check import Check
from sim.findings import Verdict
from sim.line import limit_by_spin, own_turns, turn
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


def left_at(room: JointRoom, bend: ArrayLike, own: Floats) -> Left:
    """What is left at bends and the joint's own spins (...), both rad."""
    touch, keeps = (
        limit_by_spin(curve.spin, certified(curve))(own) for curve in (room.touch, room.keeps)
    )
    at, close = _floats(bend), np.minimum(touch - room.wanted_bend, keeps)
    return Left(_floats(touch - at), _floats(close - at))


def here_verdict(left: float, spare: float) -> Verdict:
    """Verdict at one turn, from what is left there, as in `Left`."""
    if not left > 0.0:
        return "touches"
    return "clear" if spare >= 0.0 else "close"


@dataclass(eq=False)
class TurnStrip:
    """Gap of one joint against the turn of the output yoke.

    Attributes
    ----------
    joint, at : which joint in which pose.
    spin : (n,) rad, turn of the output yoke over [0, 2 pi).
    left : (n,) rad, bend left at that spin, by `certified`: known at once.
    spare : (n,) rad, the same until less is left than is wanted, as in `Left`.
    gap : (n,) mm, nan until found; 0 where the bodies overlap.
    spots : places with less left than on either side. They may lie between two spins: what is
        left at the tightest is what is left of the joint at any turn.
    """

    joint: Joint
    at: Pose
    spin: Floats
    left: Floats
    spare: Floats
    gap: Floats
    spots: tuple[Spot, ...]

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """Verdict at each turn."""
        return tuple(map(here_verdict, self.left.tolist(), self.spare.tolist()))

    @property
    def tightest(self) -> Spot:
        """The spot with the least left."""
        return min(self.spots, key=lambda spot: spot.left)


def certified(curve: TouchCurve) -> Floats:
    """Bend (n,) rad that counts as the limit at each spin of a touch curve.

    The touch, lowered all along so that the least is the certified clear bend: every part of the
    window then tells the same number. nan where nothing touches.
    """
    if curve.first is None:
        return curve.touch
    return _floats(curve.touch - max(0.0, float(np.nanmin(curve.touch)) - curve.certified_clear))


class StripWork:
    """A strip being found: `run` asks one gap at a time, the coarse picture first."""

    def __init__(self, check: Check, joint: Joint, at: Pose, spins: int = SPINS) -> None:
        self.check = check
        vehicle = check.derivation.vehicle
        spin = _floats(np.arange(spins) * (tau / spins))
        state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
        room = check.joints[joint].room
        bend, own = own_turns(vehicle, state)[joint]
        here, limit = left_at(room, bend, own), certified(room.touch)
        limit = np.where(np.isfinite(limit), limit, TOL.bend_limit)
        knots = _floats(room.touch.spin)
        found = list(_spots(spin, _floats(own), here.left, knots, limit - float(bend[0])))
        places = turn(vehicle, at.travel, at.roll, at.wrap, [spot.spin for spot in found])
        spare = left_at(room, *own_turns(vehicle, places)[joint]).spare.tolist()
        spots = tuple(replace(spot, spare=each) for spot, each in zip(found, spare, strict=True))
        gaps = np.full(spins, np.nan)
        self.strip = TurnStrip(joint, at, spin, here.left, here.spare, gaps, spots)
        self._own, self._bend = _floats(own), _floats(bend)
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


def _spots(
    spin: Floats, own: Floats, left: Floats, knots: Floats, at_knots: Floats
) -> Iterator[Spot]:
    """Tight spots, each at the least knot of the curve around it.

    spin, own, left : (n,) rad, turn of the output yoke and of the joint itself, bend left.
    knots, at_knots : (m,) rad, turns of the joint itself, bend left there.
    """
    lower = (left < np.roll(left, 1)) & (left <= np.roll(left, -1))
    if not lower.any():  # as much is left all the way round
        lower[int(left.argmin())] = True
    step = tau / len(spin)
    turned = np.unwrap(np.concatenate([own[-1:], own, own[:1]]))
    for i in np.flatnonzero(lower):
        before, here, after = turned[i : i + 3]
        best = Spot(float(spin[i]), float(left[i]))
        for start, end, shift in ((before, here, -step), (here, after, 0.0)):
            share = ((knots - start) % tau) / (end - start)
            for k in np.flatnonzero(share <= 1.0):
                if at_knots[k] < best.left:
                    place = float(spin[i] + shift + share[k] * step) % tau
                    best = Spot(place, float(at_knots[k]))
        yield best


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
