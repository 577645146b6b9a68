"""The turn strip: the gap against the turn of the shaft in one pose, found little by little."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import tau

import numpy as np
from numpy.typing import ArrayLike, NDArray

from geometry.tolerances import TOL
from sim.check import Check
from sim.line import turn
from sim.vehicle import Joint, Pose

Floats = NDArray[np.float64]

SPINS = 48
"""Places over the full turn: every 7.5 deg."""


@dataclass(eq=False)
class TurnStrip:
    """Gap of one joint against the turn of the output yoke.

    Attributes
    ----------
    joint, at : which joint in which pose.
    spin : (n,) rad, turn of the output yoke over [0, 2 pi).
    left : (n,) rad, bend left to touch at that spin, from the touch curve: known at once.
    gap : (n,) mm, nan until found; 0 where the bodies overlap.
    """

    joint: Joint
    at: Pose
    spin: Floats
    left: Floats
    gap: Floats

    @property
    def tight(self) -> list[int]:
        """Indices of the tight spots: places with less left than on either side."""
        here = self.left
        lower = (here < np.roll(here, 1)) & (here <= np.roll(here, -1))
        return [int(i) for i in np.flatnonzero(lower)]


class StripWork:
    """A strip being found: `run` asks one gap at a time, the coarse picture first."""

    def __init__(self, check: Check, joint: Joint, at: Pose, spins: int = SPINS) -> None:
        self.check = check
        vehicle = check.derivation.vehicle
        spin = _floats(np.arange(spins) * (tau / spins))
        state = turn(vehicle, at.travel, at.roll, at.wrap, spin)
        curve = check.joints[joint].curve
        if joint == "pinion":
            own, bend = state.pinion_spin, state.line.pinion_bend
        elif joint == vehicle.joint_names[0]:
            own, bend = state.output_spin, state.line.output_bend
        else:
            section = vehicle.section
            if section is None:
                raise ValueError(f"{joint}: came a joint this shaft does not have")
            own = section.output_spin(state.X_C["output yoke"][:, :3, 1])
            bend = np.full(spins, float(section.bend))
        touch = np.where(np.isfinite(curve.touch), curve.touch, TOL.bend_limit)
        limit = np.interp(own, curve.spin, touch, period=tau)
        self.strip = TurnStrip(joint, at, spin, _floats(limit - bend), np.full(spins, np.nan))
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
