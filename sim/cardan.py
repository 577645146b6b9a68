"""How a Cardan (Hooke) joint turns one shaft with another, and what several in a row leave.

`angle` is the turn of the driving shaft (rad), zero where the bores of the driving yoke lie in
the plane of the bend; `bend` is the angle between the two axes (rad), under a right angle. Speeds
and accelerations are those of the driven shaft for a driving shaft of unit speed; a real one at
w rad/s has w times the ratio and w^2 times the acceleration.

Sources: acceleration [KHURMI-GUPTA, ex. 9.2]; the rest is the project's own derivation, compared in
the tests with the tan law (an independent multibody library agrees), printed examples and tables of
the speed ratio [CARVILL, 2.4.3 p. 72].
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import pi, radians
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from geometry.errors import BindpointError
from sim.frames import FloatArray, angle_between, dot, locked, unit

NEEDLES_ROLL: Final = radians(0.5)
"""Least bend that keeps the needles rolling over fresh metal: half a degree to one (common
practice, no source)."""


class ChainError(BindpointError, ValueError):
    """Shafts and phases that make no chain."""


def _arrays(*values: ArrayLike) -> tuple[FloatArray, ...]:
    return tuple(np.asarray(value, dtype=np.float64) for value in values)


def acceleration(angle: ArrayLike, bend: ArrayLike) -> FloatArray:
    """Angular acceleration of the driven shaft, over the driving speed squared."""
    a, b = _arrays(angle, bend)
    squared = np.sin(b) ** 2
    value: FloatArray = (
        -np.cos(b) * squared * np.sin(2.0 * a) / (1.0 - squared * np.cos(a) ** 2) ** 2
    )
    return value


def bend_of_lead(amplitude: ArrayLike) -> FloatArray:
    """Bend (rad) of the one joint whose greatest lead this is.

    A joint leads the most where tan(angle)^2 = cos(b), by atan((1 - cos(b)) / (2 sqrt(cos(b)))),
    whose sine is (1 - cos(b)) / (1 + cos(b)) = tan(b/2)^2 [derivation]. No one joint
    leads by a right angle or more: a right angle comes back for that.
    """
    (a,) = _arrays(amplitude)
    value: FloatArray = 2.0 * np.arctan(np.sqrt(np.sin(np.minimum(a, 0.5 * pi))))
    return value


def angle_of_greatest_acceleration(bend: ArrayLike) -> FloatArray:
    """Angle (rad) in the first quarter turn where the driven shaft slows down hardest.

    With a = sin(bend)^2, cos(2 angle) = (a - 2 + sqrt((2 - a)^2 + 8 a^2)) / (2 a), written here
    without the difference of near-equal numbers; an eighth of a turn for a straight joint.
    """
    a = np.sin(np.asarray(bend, dtype=np.float64)) ** 2
    double: FloatArray = np.arccos(4.0 * a / (2.0 - a + np.sqrt((2.0 - a) ** 2 + 8.0 * a * a)))
    return 0.5 * double


def greatest_acceleration(bend: ArrayLike) -> FloatArray:
    """Greatest acceleration either way, over the driving speed squared."""
    value: FloatArray = np.abs(acceleration(angle_of_greatest_acceleration(bend), bend))
    return value


def equivalent_angle(bends: ArrayLike, ear_turns: ArrayLike) -> FloatArray:
    """Bend (rad) of the one joint that would be as uneven as several, for small bends.

    `ear_turns` (n,) is the turn of each joint's driving bores out of its bend plane at one
    instant. sqrt(|sum bend^2 exp(2 i turn)|) [AE-7, 3.1.1, from memory]; the tests compare it
    with `chain`. At 25 and 24 deg it is 6 % low: use `chain` above some 15 deg.
    """
    b, turns = _arrays(bends, ear_turns)
    value: FloatArray = np.sqrt(np.abs(np.sum(b**2 * np.exp(2.0j * turns), axis=-1)))
    return value


@dataclass(frozen=True, eq=False)
class Chain:
    """The last shaft's turning over one whole, even turn of the first, exactly."""

    bends: FloatArray
    """(n,) bend of each joint, rad."""
    ear_turns: FloatArray
    """(n,) turn of each joint's driving bores out of its bend plane when the first is at 0."""
    angle: FloatArray
    """(m,) turn of the first shaft, rad in [0, 2 pi)."""
    lead: FloatArray
    """(m,) turn of the last shaft less that of the first, rad, about its own mean."""
    speed_ratio: FloatArray
    """(m,) speed of the last shaft over that of the first."""
    acceleration: FloatArray
    """(m,) acceleration of the last shaft over the first shaft's speed squared."""

    @property
    def lead_amplitude(self) -> float:
        """Half the swing of the lead, rad."""
        fine = _finer(self.lead)
        return 0.5 * float(np.ptp(fine))

    @property
    def greatest_acceleration(self) -> float:
        """Greatest acceleration either way, over the first shaft's speed squared."""
        return float(np.max(np.abs(_finer(self.acceleration))))

    @property
    def like_one_joint(self) -> float:
        """Bend (rad) of the one joint that leads and lags by as much, exactly."""
        return float(bend_of_lead(self.lead_amplitude))

    @property
    def equivalent_angle(self) -> float:
        """The small-angle rule for the same joints, rad; see `equivalent_angle`."""
        return float(equivalent_angle(self.bends, self.ear_turns))


def chain(axes: ArrayLike, phases: Sequence[float] = (), samples: int = 720) -> Chain:
    """Turn a chain of shafts once, by the directions of the bores alone.

    Parameters
    ----------
    axes : (n + 1, 3), direction of each shaft along the flow of power, any length; n joints.
    phases : (n - 1) rad, turn of each middle shaft's far bores against its near bores,
        right-handed about its axis; all in line when left out.
    samples : even steps of the first shaft over the turn.

    Raises
    ------
    ChainError : fewer than two axes, or a number of phases that does not fit them.

    Notes
    -----
    At each joint the driven bores are square to the driving bores and to the driven axis, and no
    moment passes but along the normal of the cross, which gives the ratio of the speeds.
    No formula for the angle is used. Derivatives are taken over the whole periodic turn, exact
    to rounding. [derivation]
    """
    directions = unit(axes)
    joints = len(directions) - 1
    turned = list(phases) or [0.0] * (joints - 1)
    if joints < 1 or len(turned) != joints - 1:
        raise ChainError(
            f"chain: got {len(directions)} axes and {len(turned)} phases, expected at least two "
            "axes, and one phase for each shaft between two joints"
        )
    angle: FloatArray = np.arange(samples, dtype=np.float64) * (2.0 * pi / samples)
    in_plane = [_in_bend_plane(a, b) for a, b in pairwise(directions)]
    bores = _turned(in_plane[0], directions[0], angle)
    ratio = np.ones(samples)
    ear_turns = []
    for joint, (driving, driven) in enumerate(pairwise(directions)):
        ear_turns.append(_turn_between(in_plane[joint], bores[0], driving))
        driven_bores = unit(np.cross(bores, driven))
        normal = np.cross(bores, driven_bores)
        ratio = ratio * dot(normal, driving) / dot(normal, driven)
        last = driven_bores
        if joint < joints - 1:
            bores = _turned(driven_bores, driven, np.array(turned[joint]))
    turn = np.unwrap(_turn_between(last[0], last, directions[-1]))
    ahead = turn - angle
    return Chain(
        bends=locked(angle_between(directions[:-1], directions[1:])),
        ear_turns=locked(np.array(ear_turns)),
        angle=locked(angle),
        lead=locked(ahead - ahead.mean()),
        speed_ratio=locked(ratio),
        acceleration=locked(_derivative(ratio)),
    )


def _in_bend_plane(driving: FloatArray, driven: FloatArray) -> FloatArray:
    """Unit vector square to the driving axis in the plane of the bend; any where straight."""
    across = np.cross(driving, driven)
    if np.linalg.norm(across) < 1e-12:
        across = np.cross(driving, np.eye(3)[np.argmin(np.abs(driving))])
    return unit(np.cross(across, driving))


def _turned(v: FloatArray, axis: FloatArray, angle: FloatArray) -> FloatArray:
    """Vectors (..., 3) square to `axis`, turned right-handed about it."""
    c, s = np.cos(angle)[..., None], np.sin(angle)[..., None]
    return c * v + s * np.cross(axis, v)


def _turn_between(start: FloatArray, end: FloatArray, axis: FloatArray) -> FloatArray:
    """Right-handed turn about `axis` from `start` to `end`, both square to it, rad."""
    turn: FloatArray = np.arctan2(dot(np.cross(axis, start), end), dot(start, end))
    return turn


def _derivative(values: FloatArray) -> FloatArray:
    """Derivative of evenly sampled values over a whole period of 2 pi."""
    waves = np.fft.rfft(values)
    order = np.arange(len(waves))
    if len(values) % 2 == 0:
        order[-1] = 0
    slope: FloatArray = np.fft.irfft(1j * order * waves, n=len(values))
    return slope


def _finer(values: FloatArray, times: int = 16) -> FloatArray:
    """The same periodic curve at `times` as many samples."""
    fine: FloatArray = np.fft.irfft(np.fft.rfft(values), n=times * len(values)) * times
    return fine
