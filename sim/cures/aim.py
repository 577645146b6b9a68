"""Where to aim the pinion: smooth at speed against room at droop, over a range of angles."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import radians

import numpy as np

from geometry.errors import BindpointError
from sim.assessment import Assessment, Assessor
from sim.cures.restate import pinion_turned
from sim.derive import ride_height_of, vehicle_of
from sim.line import running
from sim.rig import Rig
from sim.speed import driven
from sim.vehicle import Pose

SPAN = radians(10.0)
"""How far either way the pinion is turned."""

STEP = radians(0.5)


@dataclass(frozen=True)
class Aim:
    """One angle of the pinion.

    Attributes
    ----------
    turn : rad, nose up from where it is now.
    pinion_up : rad, what it then points up.
    uneven : rad by which the pinion leads and lags at ride height, coasting.
    uneven_driven : the same with the share `UNDER_POWER` of the wrap that driving forward gives.
    outcome : what the rig comes to over its travel.
    """

    turn: float
    pinion_up: float
    uneven: float
    uneven_driven: float
    outcome: Assessment

    @property
    def shake(self) -> float:
        """The worse of coasting and driving, rad."""
        return max(self.uneven, self.uneven_driven)


@dataclass(frozen=True)
class AimCurve:
    """What turning the pinion does, from nose down to nose up.

    Attributes
    ----------
    aims : by rising turn.
    best : the smoothest that is as clear as the clearest of them.
    """

    aims: tuple[Aim, ...]

    @property
    def best(self) -> Aim:
        """The smoothest aim among those with the best verdict."""
        order = ("clear", "close", "touches")
        top = min((aim.outcome.held for aim in self.aims), key=order.index)
        fit = [aim for aim in self.aims if aim.outcome.held == top]
        if top == "touches":
            return max(fit, key=lambda aim: aim.outcome.least)
        return min(fit, key=lambda aim: (round(aim.shake, 6), -aim.outcome.least))


def aim_curve(rig: Rig, assessor: Assessor | None = None) -> AimCurve:
    """Turn the pinion of a rig through a range and sweep the travel at each angle.

    Raises BindpointError when the rig itself cannot be assessed.
    """
    asked = assessor or Assessor()
    asked.assess(rig)
    return AimCurve(tuple(_aims(rig, asked)))


def _aims(rig: Rig, assessor: Assessor) -> Iterator[Aim]:
    count = round(SPAN / STEP)
    for turn in np.linspace(-SPAN, SPAN, 2 * count + 1).tolist():
        try:
            turned = pinion_turned(rig, turn) if turn else rig
            outcome = assessor.assess(turned)
        except BindpointError:
            continue
        vehicle = vehicle_of(turned)
        under = running(vehicle, Pose(wrap=driven(vehicle.travel, vehicle.front)))
        yield Aim(
            turn,
            ride_height_of(turned).pinion_up,
            outcome.uneven,
            under.lead_amplitude,
            outcome,
        )
