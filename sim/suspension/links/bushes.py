"""Rubber bushes, and how far a rigid arm on two of them gives at its far end."""

from dataclasses import dataclass
from math import isfinite
from typing import Final

import numpy as np

from sim.frames import FloatArray, Vec3
from sim.suspension.base import SuspensionError

GENERIC_STIFFNESS: Final = 5000.0
"""N/mm. Rate of one rubber bush square to its sleeve (from memory: soft ones 2000, firm ones
20000); measure yours. Only sets of links that bind in their bushes depend on it, and there on the
ratios of the bushes alone."""

GENERIC_GIVE: Final = 0.75 * 25.4
"""mm. Farthest that a bush is taken to give, 3/4 in: the rubber of a large bush is not thicker
(from memory). A pose that asks for more is out of reach."""

AXIAL_SHARE: Final = 0.25
"""Rate of a bush along its sleeve, as a share of the one square to it (from memory)."""

SLEEVE: Final = 60.0
"""mm. Length of a generic bush; a bush as stiff as k square to its sleeve, evenly along that
length l, resists tilting with k l^2 / 12 [derivation]."""


def at_least(value: float, name: str) -> float:
    """Give a stiffness or a give back if it is a number above zero."""
    if not (isfinite(value) and value > 0.0):
        raise SuspensionError(f"{name}: got {value}, expected a number above zero")
    return value


@dataclass(frozen=True, eq=False)
class HeldArm:
    """A rigid arm on two bushes of the housing, with one more bush at its far end, condensed.

    Moving the far end by u takes the force K u; the arm's own six freedoms are eliminated. Its
    bushes have their sleeves along y. The force is linear in what the bushes give; that a turned
    arm also reaches less far along itself is in `bend` [derivation].
    """

    stiffness: FloatArray
    """(3,) N/mm along the principal axes."""
    axes: FloatArray
    """(3, 3) the principal axes as rows, in A."""
    shares: FloatArray
    """(3, 3, 3) give of the far bush and the two bushes of the housing, in A (mm), for 1 mm of
    give along each principal axis: bushes, components, principal axes."""
    bend: FloatArray
    """(3, 3, 3) 1/mm: the far end moved by w along the principal axes, w Q w / 2 along each is
    what the arm's own turn moves it beside the give, the first index naming the axis."""


def held_arm(end: Vec3, held_at: tuple[Vec3, Vec3], stiffness: float) -> HeldArm:
    """Condense an arm with its far `end`, `held_at` two points of the housing (in A, mm)."""
    bush = np.diag([stiffness, AXIAL_SHARE * stiffness, stiffness])
    tilt = np.diag([1.0, 0.0, 1.0]) * stiffness * SLEEVE**2 / 12.0
    middle = 0.5 * (np.array(held_at[0]) + np.array(held_at[1]))
    lever = np.array(end) - middle
    moves = [_moves(np.array(point) - middle) for point in held_at]
    arm = np.zeros((6, 6))
    arm[3:, 3:] = 2.0 * tilt
    for move in moves:
        arm += move.T @ bush @ move
    scale = np.diag([1.0] * 3 + [1.0 / np.linalg.norm(lever)] * 3)
    loose = scale @ np.linalg.inv(scale @ arm @ scale) @ scale
    far = _moves(lever)
    compliance = far @ loose @ far.T + np.linalg.inv(bush)
    soft, axes = np.linalg.eigh(0.5 * (compliance + compliance.T))
    force = axes / soft  # columns: force at the end for 1 mm along each principal axis
    shares = np.stack(
        [np.linalg.inv(bush) @ force, *(move @ loose @ far.T @ force for move in moves)]
    )
    turn = loose[3:] @ far.T @ force  # columns: turn of the arm for 1 mm along each
    return HeldArm(1.0 / soft, axes.T, shares, _bend(turn, lever, axes.T))


def _bend(turn: FloatArray, lever: FloatArray, axes: FloatArray) -> FloatArray:
    """Second-order move of the lever's end, w x (w x lever) / 2 for a turn w, per axis."""
    twice = np.cross(turn.T[:, None], np.cross(turn.T, lever)[None])  # (i, j, component)
    along: FloatArray = np.einsum("kc,ijc->kij", axes, twice)
    return 0.5 * (along + np.swapaxes(along, 1, 2))


def _moves(r: FloatArray) -> FloatArray:
    """(3, 6) move of a point at r for a shift and a small turn of its body."""
    x, y, z = r
    return np.hstack([np.eye(3), [[0.0, z, -y], [-z, 0.0, x], [y, -x, 0.0]]])
