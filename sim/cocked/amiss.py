"""What else goes wrong at the needles: one astray, too small a joint, a slip that sticks."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, radians
from typing import Final

import numpy as np

from sim.bearing.needles import MODULUS, POISSON, STATIC_PRESSURE, Needles
from sim.cocked.balance import BalanceError, balance
from sim.cocked.life import reference_life
from sim.cocked.slices import CLEARANCE, Row
from sim.quantities import require_not_negative, require_positive
from sim.strength.couples import joint_load, slip_thrust

GREASED: Final = 0.15
"""Friction of a greased spline under torque (from memory)."""

DRY: Final = 0.5
"""Of a dry and rusted one (from memory)."""

FACE: Final = radians(30.0)
"""Half of the arc of a trunnion that is called its front, and its rear."""


@dataclass(frozen=True)
class Astray:
    """A needle that lies across the bottom of its cap.

    Attributes
    ----------
    proud : mm that the cap stands out: a needle's diameter. Two caps of an axis with their clips in
        leave a few hundredths, so it does not go home, or is forced there and clamps the cross.
    dents_from : N with which it is forced home that print the needle into the trunnion's end.
    crowded : times the load on the worst needle of the row that now lacks one.
    """

    proud: float
    dents_from: float
    crowded: float


def astray(needles: Needles, force: float) -> Astray:
    """A needle at the bottom of a cap that a force (N) presses.

    It lies on the flat end of the trunnion, a line contact as long as it, or as the trunnion is
    wide where that is less: Hertz the other way round, F = p^2 pi R L / E* [BORESI, ch. 17].
    """
    require_positive(BalanceError, force=force)
    length = min(needles.length, needles.trunnion)
    modulus = MODULUS / (2.0 * (1.0 - POISSON**2))
    dents = STATIC_PRESSURE**2 * pi * 0.5 * needles.diameter * length / modulus
    whole, lacking = (Row(needles, CLEARANCE, lost=lost) for lost in ((), (0,)))
    most = [_greatest_needle(row, force) for row in (lacking, whole)]
    return Astray(needles.diameter, dents, most[0] / most[1])


@dataclass(frozen=True)
class Against:
    """A joint against another one under the same torque.

    Attributes
    ----------
    peak_mpa, other_mpa : greatest pressure of each with straight caps.
    life_ratio : reference life of the first over that of the other.
    """

    peak_mpa: float
    other_mpa: float
    life_ratio: float


def against(
    needles: Needles, arm: float, other: Needles, other_arm: float, torque: float, bend: float = 0.0
) -> Against:
    """Compare two joints at a torque (N mm) and a bend (rad), their caps straight.

    arm, other_arm : from the cross centre to the middle of the needles, mm.
    """
    peaks, lives = [], []
    for row, lever in ((Row(needles, CLEARANCE), arm), (Row(other, CLEARANCE), other_arm)):
        force = joint_load(torque, bend, lever).cap_force
        found = balance(row, [[force, 0.0]], (0.0, 0.0))
        peaks.append(float(row.pressure(found.force).max()))
        lives.append(reference_life(row, found.force))
    return Against(peaks[0], peaks[1], lives[0] / lives[1])


@dataclass(frozen=True)
class Thrust:
    """A slip that sticks and pushes on the joint while the suspension moves under torque.

    Attributes
    ----------
    force : N along the shaft; half of it on each cap of either axis.
    faces_mpa : greatest pressure on the front and the rear of a trunnion.
    load_side_mpa : greatest on the side that the torque loads.
    """

    force: float
    faces_mpa: float
    load_side_mpa: float

    @property
    def dents(self) -> bool:
        """Whether it passes what hardened steel takes, on the front and rear."""
        return self.faces_mpa > STATIC_PRESSURE


def thrust(
    needles: Needles, arm: float, torque: float, pitch_diameter: float, friction: float = DRY
) -> Thrust:
    """What a slip that sticks does to the trunnions, at a torque (N mm), of a straight joint.

    The torque gives each cap T / (2 R) across the shaft, and the slip half of its thrust along it,
    one way as it closes and the other as it opens. Fronts and rears are told within 30 deg.
    """
    require_not_negative(BalanceError, torque=torque, friction=friction)
    load = joint_load(torque, 0.0, arm, slip_thrust(torque, pitch_diameter, friction))
    row = Row(needles, CLEARANCE)
    found = balance(row, [[load.across, load.along], [load.across, -load.along]], (0.0, 0.0))
    angle = np.linspace(-pi, pi, 361)
    force, _ = row.carried(found.moved, found.leans, np.broadcast_to(angle, (2, len(angle))))
    pressure = row.pressure(force).max(axis=(0, 2))
    faces = np.abs(np.abs(angle) - 0.5 * pi) <= FACE
    return Thrust(
        force=load.thrust,
        faces_mpa=float(pressure[faces].max()),
        load_side_mpa=float(pressure[np.abs(angle) <= FACE].max()),
    )


def _greatest_needle(row: Row, force: float) -> float:
    """N on the worst needle, where the row lacks one right under the load."""
    found = balance(row, [[force, 0.0]], (0.0, 0.0))
    return float(found.force.sum(axis=2).max())
