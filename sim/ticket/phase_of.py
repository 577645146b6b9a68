"""How the ears of a rig's shaft stand, and how they would stand best."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final

from sim.line import shafts
from sim.speed import best_phase, cancelling_phase, excitation, whole_teeth
from sim.ticket.slip_plan import SlipPlan
from sim.vehicle import Vehicle

GAIN: Final = 0.8
"""A phase is worth telling where it leaves less than this share of what is left as built."""


@dataclass(frozen=True)
class PhaseSaid:
    """The best turn of the ears at both ends of the shaft against each other.

    Attributes
    ----------
    now, best : rad in (-pi/2, pi/2], as the rig has it and as it shakes least, right-handed about
        the way from the output to the pinion; of the front section too where there is one.
    left_now, left_best : greatest acceleration at the pinion, over the shaft's speed squared.
    teeth, by_teeth : how many teeth of the slip's spline that is from how it is now, signed as the
        phase, and where the ears then stand (rad); None without a slip in the shaft.
    left_by_teeth : what those teeth alone leave, as `left_best`.
    """

    now: tuple[float, ...]
    best: tuple[float, ...]
    left_now: float
    left_best: float
    teeth: int | None
    by_teeth: float | None
    left_by_teeth: float | None

    @property
    def left_share(self) -> float:
        """What the best phase leaves, as a share of what is left now."""
        return self.left_best / self.left_now if self.left_now > 0.0 else 1.0

    @property
    def left_share_by_teeth(self) -> float | None:
        """What those teeth alone leave, as such a share; None where nothing is to be left."""
        if self.left_by_teeth is None or not self.left_now > 0.0:
            return None
        return self.left_by_teeth / self.left_now

    @property
    def worth_it(self) -> bool:
        """Whether turning the ears takes away a good part of the shaking."""
        return self.left_best < GAIN * self.left_now


def phase_of(vehicle: Vehicle, plan: SlipPlan) -> PhaseSaid | None:
    """The best phase of the shaft between its two joints."""
    if vehicle.heads:
        return None
    axes, now = shafts(vehicle)
    best = best_phase(axes) if len(now) > 1 else (cancelling_phase(axes),)
    teeth, by_teeth, left_by_teeth = None, None, None
    if plan.built_part is not None:
        turn = best[-1] - now[-1]
        teeth, moved = whole_teeth(turn, round(plan.built_part.shape.spline_teeth))
        by_teeth = (now[-1] + moved + 0.5 * pi) % pi - 0.5 * pi
        left_by_teeth = excitation(axes, 1.0, (*now[:-1], by_teeth)).torsional
    return PhaseSaid(
        now=now,
        best=best,
        left_now=excitation(axes, 1.0, now).torsional,
        left_best=excitation(axes, 1.0, best).torsional,
        teeth=teeth,
        by_teeth=by_teeth,
        left_by_teeth=left_by_teeth,
    )
