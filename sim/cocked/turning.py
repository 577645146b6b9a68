"""What one cap of a turning joint gets: the force of the torque, and how it swings in its yoke.

The cross passes a moment along the normal of its plane only, so every cap is pressed square to its
trunnion in that plane: the force stays with the cross and swings against the yoke by as much as
the yoke swings on its trunnions. Formulas as in `sim.strength.couples` [derivation].
"""

from dataclasses import dataclass
from math import pi

import numpy as np

from sim.cocked.balance import BalanceError
from sim.frames import FloatArray, read_only
from sim.quantities import require_bend, require_not_negative, require_positive

SPINS = 24
"""Moments of a turn that are asked; even, so that each has another half a turn away."""


@dataclass(frozen=True, eq=False)
class CapTurn:
    """One cap over one turn of the joint.

    Attributes
    ----------
    spin : (n,) turn of the driving yoke, 0 where its bores lie in the plane of the bend, rad.
    force : (n,) N with which the trunnion presses on the cap.
    swing : (n,) rad by which that force has turned in the yoke, from d toward a (frame K).
    rolls : (n,) how far the cap turns on its trunnion for each rad of spin, without sign.
    """

    spin: FloatArray
    force: FloatArray
    swing: FloatArray
    rolls: FloatArray

    def load(self, drives: bool = True) -> FloatArray:
        """(n, 2) N toward d and a, while the engine drives or while it holds back."""
        way = np.stack([np.cos(self.swing), np.sin(self.swing)], axis=1)
        return np.asarray((1.0 if drives else -1.0) * self.force[:, None] * way)


def cap_turn(
    torque: float, bend: float, arm: float, driving: bool, far: bool, spins: int = SPINS
) -> CapTurn:
    """One cap under a torque (N mm) in the driving shaft at a bend (rad).

    arm : from the cross centre to the middle of the needles, mm.
    driving : whether the cap sits in the yoke that drives.
    far : whether it is the second cap of its yoke, which swings the other way.

    With D^2 = 1 - cos(s)^2 sin(b)^2 the cross passes T D / cos b, half of it over each axis, so a
    cap gets T D / (2 R cos b). Of it T / (2 R) turns the driving yoke and the rest lies along its
    shaft, which is a swing of atan(tan b sin s); the driven yoke's swing has the sine
    sin b cos s. [derivation]
    """
    require_bend(BalanceError, bend=bend)
    require_positive(BalanceError, arm=arm, spins=spins)
    require_not_negative(BalanceError, torque=torque)
    s = np.arange(spins) * (2.0 * pi / spins)
    D = np.sqrt(1.0 - (np.cos(s) * np.sin(bend)) ** 2)
    if driving:
        swing = np.arctan(np.tan(bend) * np.sin(s))
        rolls = np.abs(np.tan(bend) * np.cos(s)) * np.cos(swing) ** 2
    else:
        swing = np.arcsin(np.sin(bend) * np.cos(s))
        rolls = np.abs(np.sin(bend) * np.sin(s)) / np.cos(swing)
    force = torque * D / (2.0 * arm * np.cos(bend))
    return CapTurn(*map(read_only, (s, force, -swing if far else swing, rolls)))
