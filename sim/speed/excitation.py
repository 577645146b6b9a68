"""How hard the joints shake shaft and axle at a speed, from the exact chain of shafts."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sim.cardan import NEEDLES_ROLL, Chain, chain
from sim.frames import FloatArray
from sim.quantities import require_not_negative
from sim.remark import Remark
from sim.speed.limits import INERTIA, TORSIONAL
from sim.speed.road import SpeedError


@dataclass(frozen=True)
class Excitation:
    """Greatest accelerations over a turn, rad/s2, at a speed of the first shaft."""

    speed: float
    """rad/s."""
    torsional: float
    """Left at the last shaft, the first turning evenly."""
    drive: float
    """Of the shaft between the joints, the first turning evenly: the greatest of several."""
    coast: float
    """The same, the last shaft turning evenly and driving back."""
    turning: Chain
    """The whole chain over one turn."""
    torsional_limit: float = TORSIONAL
    inertia_limit: float = INERTIA

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is past a limit, and joints too straight for their needles."""
        return tuple(self._flags())

    def _flags(self) -> Iterator[Remark]:
        if self.torsional > self.torsional_limit:
            yield Remark("torsional-over", shakes=self.torsional, most=self.torsional_limit)
        if self.drive > self.inertia_limit:
            yield Remark("inertia-drive-over", shakes=self.drive, most=self.inertia_limit)
        if self.coast > self.inertia_limit:
            yield Remark("inertia-coast-over", shakes=self.coast, most=self.inertia_limit)
        straight = int(np.sum(self.turning.bends < NEEDLES_ROLL))
        if straight:
            yield Remark("too-straight", count=straight)


def excitation(axes: ArrayLike, speed: float, phases: Sequence[float] = ()) -> Excitation:
    """Shake a chain of shafts at a speed.

    Parameters
    ----------
    axes : (n + 1, 3) directions of the shafts along the flow of power, as for `sim.cardan.chain`;
        the center yoke of a double-Cardan head is a shaft of its own among them.
    speed : of the first shaft, rad/s.
    phases : (n - 1) rad, as for `sim.cardan.chain`.

    Driving back, the flow is reversed: each axis points the other way, each phase is seen from
    its other end and along the reversed axis, and so keeps its sign.

    Raises
    ------
    ChainError : axes and phases that make no chain. SpeedError : a speed under zero.
    """
    require_not_negative(SpeedError, speed=speed)
    directions = np.asarray(axes, dtype=np.float64)
    whole = chain(directions, phases)
    turned = list(phases) or [0.0] * (len(directions) - 2)
    return Excitation(
        speed=speed,
        torsional=speed**2 * whole.greatest_acceleration,
        drive=speed**2 * _between(directions, turned),
        coast=speed**2 * _between(-directions[::-1], turned[::-1]),
        turning=whole,
    )


def _between(directions: FloatArray, phases: Sequence[float]) -> float:
    """Greatest acceleration of the shafts between first and last, for a unit speed of the first."""
    count = len(directions) - 2
    if count < 1:
        return chain(directions).greatest_acceleration
    return max(
        chain(directions[: shaft + 1], phases[: shaft - 1]).greatest_acceleration
        for shaft in range(1, count + 1)
    )
