"""When a joint touches: the touch bend over a whole turn, with a certificate.

For each pair of bodies the first touch is found at evenly spaced spins by conservative
advancement. The lowest is then sought between the spins, and every spin of the turn is
certified clear up to a bend at most `TOL.certificate` below it.
"""

from dataclasses import dataclass
from math import inf, nan, pi

import numpy as np
from numpy.typing import NDArray

from geometry.closing import Touch, certify, first_touch
from geometry.joint import rotations
from geometry.joint_parts import DRIVING, ClosingJoint, JointPair
from geometry.tolerances import TOL

Array = NDArray[np.float64]

SPINS = 144
"""Spins sampled over a full turn: every 2.5 deg, fine enough to draw. The certificate does not
depend on it."""


@dataclass(frozen=True)
class Contact:
    """Where two bodies of a joint meet.

    Attributes
    ----------
    bodies : names of the two bodies ("driving", "driven", "cross").
    surfaces : name of the touching surface on each.
    points : (2, 3) mm, the contact point on each, in the joint frame J.
    bend, spin : rad, the pose.
    """

    bodies: tuple[str, str]
    surfaces: tuple[str, str]
    points: Array
    bend: float
    spin: float


@dataclass(frozen=True)
class TouchCurve:
    """First touch of a joint over a full turn of the driving yoke.

    Attributes
    ----------
    spin : (n,) rad, over [0, 2 pi).
    touch : (n,) rad, bend at which contact is seen; nan where none up to `limit`.
    clear : (n,) rad, no contact at this spin up to here.
    contacts : what touches first, one for each spin; None where nothing does.
    touch_min : rad, lowest bend at which contact is seen at any spin; inf if at none.
    first : the contact at `touch_min`; None if there is none.
    certified_clear : rad, no contact at any spin up to here, for these meshes.
    chord : mm, largest distance of the meshes from the true surfaces; the metal is inside.
    limit : rad, highest bend searched.
    """

    spin: Array
    touch: Array
    clear: Array
    contacts: tuple[Contact | None, ...]
    touch_min: float
    first: Contact | None
    certified_clear: float
    chord: float
    limit: float


def touch_curve(joint: ClosingJoint, spins: int = SPINS) -> TouchCurve:
    """Find when a joint touches, at `spins` spins and with a certificate for the whole turn."""
    spin = np.arange(spins, dtype=np.float64) * (2.0 * pi / spins)
    touch, clear = np.full(spins, nan), np.full(spins, TOL.bend_limit)
    contacts: list[Contact | None] = [None] * spins
    lowest = _Lowest()
    for pair in joint.pairs:
        asked: dict[float, Touch | None] = {}
        for i, at in enumerate(spin):
            folded, mirrored = pair.turn.fold(float(at))
            name = round(folded, 12)
            if name not in asked:
                asked[name] = first_touch(pair.closing, folded, 0.0, clear[i])
                lowest.offer(pair, folded, asked[name])
            seen = asked[name]
            if seen is not None and not seen.touch >= touch[i]:
                touch[i], clear[i] = seen.touch, seen.clear
                contacts[i] = _contact(pair, folded, float(at), seen, mirrored)
        _look_between(pair, 2.0 * pi / spins, lowest)
    certified = _certify_all(joint, lowest)
    first = None
    if lowest.pair is not None and lowest.touch is not None:
        first = _contact(lowest.pair, lowest.spin, lowest.spin, lowest.touch, mirrored=False)
    for array in (spin, touch, clear):
        array.flags.writeable = False
    return TouchCurve(
        spin=spin,
        touch=touch,
        clear=clear,
        contacts=tuple(contacts),
        touch_min=lowest.bend,
        first=first,
        certified_clear=certified,
        chord=joint.parts.chord,
        limit=TOL.bend_limit,
    )


class _Lowest:
    """The lowest contact seen so far over all pairs and spins."""

    def __init__(self) -> None:
        self.bend = inf
        self.spin = nan
        self.touch: Touch | None = None
        self.pair: JointPair | None = None

    def offer(self, pair: JointPair, spin: float, touch: Touch | None) -> None:
        if touch is not None and touch.touch < self.bend:
            self.bend, self.spin, self.touch, self.pair = touch.touch, spin, touch, pair


def _look_between(pair: JointPair, spacing: float, lowest: _Lowest) -> None:
    """Narrow down the lowest contact between the sampled spins, if it is of this pair."""
    if lowest.pair is not pair:
        return
    width = 0.5 * spacing
    while width > _SPIN_STEP:
        here = lowest.spin
        for spin in (here - width, here + width):
            # Only an upper bound is wanted: what lies below is the certificate's to rule out.
            start = max(0.0, lowest.bend - 2.0 * TOL.certificate)
            lowest.offer(pair, spin, first_touch(pair.closing, spin, start, lowest.bend))
        width *= 0.5


_SPIN_STEP = 1e-3
"""rad. Where the search between spins ends; a lower contact missed by it is found and taken
over while certifying."""


def _certify_all(joint: ClosingJoint, lowest: _Lowest) -> float:
    """Bend (rad) up to which every pair is ruled out at every spin; may lower `lowest`."""
    while True:
        target = min(lowest.bend - _BELOW * TOL.certificate, TOL.bend_limit)
        found = False
        for pair in joint.pairs:
            hit = certify(pair.closing, 0.0, pair.turn.end, max(0.0, target))
            if hit is not None:
                spin, touch = hit
                lowest.offer(pair, spin, touch)
                _look_between(pair, pair.turn.end / 36.0, lowest)
                found = True
                break
        if not found:
            return max(0.0, target)


_BELOW = 0.9
"""Share of the allowed bracket used between the contact and the certificate; the rest covers
the bracket of the contact itself."""


def _contact(pair: JointPair, folded: float, spin: float, touch: Touch, mirrored: bool) -> Contact:
    """Contact in the joint frame, from the nearest points in the frame of the pair's first."""
    joint = rotations(touch.clear, folded)
    R_JA = joint.R_JD if pair.bodies[0] == DRIVING else joint.R_JN
    points = np.stack([touch.nearest.point_a, touch.nearest.point_b]) @ R_JA.T
    if mirrored:
        points = points * np.array([1.0, 1.0, -1.0])
    points.flags.writeable = False
    return Contact(pair.bodies, pair.closing.surfaces(touch.nearest), points, touch.clear, spin)
