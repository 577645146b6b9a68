"""When a joint touches: the touch bend over a whole turn, with a certificate.

For the two yokes the first touch is found at evenly spaced spins by conservative advancement, for
the cross by swinging it in each yoke's bores. The lowest touch is then sought between the spins,
and every spin of the turn is certified clear up to a bend at most `TOL.certificate` below it.

A joint made ready for a gap gives the same curve for that gap: up to which bend it is left.
"""

from dataclasses import dataclass
from math import inf, nan, pi

import numpy as np
from numpy.typing import NDArray

from geometry.contact.closing import certify, first_touch
from geometry.contact.joint_parts import DRIVING, ClosingJoint, JointPair
from geometry.contact.swing import SwingingPair
from geometry.contact.touching import Closeness, Touch
from geometry.joint import rotations
from geometry.tolerances import TOL

Array = NDArray[np.float64]

SPINS, GAP_SPINS = 144, 72
"""Spins sampled over a full turn: every 2.5 deg, fine enough to draw; for a gap every 5 deg. The
certificate does not depend on it."""


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

    With a gap, first coming nearer than that: `touch` is where less is seen to be left, to within
    `TOL.gap`, and `clear` and `certified_clear` are where all of it is.

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
    gap : mm, how near counts as touching.
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
    gap: float = 0.0

    @property
    def bracket(self) -> float:
        """Widest bracket (rad) between a clear bend and a contact of this curve."""
        return Closeness(self.gap).certificate


def spins_of(gap: float) -> int:
    """Count the spins that a curve for a gap (mm) is sampled at."""
    return GAP_SPINS if gap > 0.0 else SPINS


def touch_curve(joint: ClosingJoint, spins: int | None = None) -> TouchCurve:
    """Find when a joint touches, or leaves less than the gap it was made ready for.

    Over `spins` spins, those of `spins_of` when left out; with a certificate for the whole turn.
    """
    search = _Search(joint, spins_of(joint.gap) if spins is None else spins)
    search.sample_yokes()
    search.swing_cross()
    certified = search.certify()
    for array in (search.spin, search.touch, search.clear):
        array.flags.writeable = False
    return TouchCurve(
        spin=search.spin,
        touch=search.touch,
        clear=search.clear,
        contacts=tuple(search.contacts),
        touch_min=search.lowest,
        first=search.first,
        certified_clear=certified,
        chord=joint.parts.chord,
        limit=TOL.bend_limit,
        gap=joint.gap,
    )


class _Search:
    """The curve and its lowest point as they are found."""

    def __init__(self, joint: ClosingJoint, spins: int) -> None:
        self.joint = joint
        self.spin = np.arange(spins, dtype=np.float64) * (2.0 * pi / spins)
        self.touch = np.full(spins, nan)
        self.clear = np.full(spins, TOL.bend_limit)
        self.contacts: list[Contact | None] = [None] * spins
        self.lowest = inf
        self.first: Contact | None = None

    def sample_yokes(self) -> None:
        """Find the yokes' touch at every sampled spin, and the lowest in between."""
        turn = self.joint.turn
        asked: dict[float, Touch | None] = {}
        for i, spin in enumerate(self.spin.tolist()):
            folded, mirrored = turn.fold(spin)
            name = round(folded, 12)
            if name not in asked:
                asked[name] = first_touch(self.joint.yokes, folded, 0.0, TOL.bend_limit)
                self._offer_yokes(folded, asked[name])
            self._take(i, self.joint.yoke_pair, folded, asked[name], mirrored)
        self._look_between(pi / len(self.spin))

    def swing_cross(self) -> None:
        """Find how far the cross swings each way, and enter that at every spin."""
        for pair, swinging in self.joint.swings:
            for sign in (1.0, -1.0):
                swung = swinging.first_touch(sign)
                if swung is None:
                    continue
                for i, spin in enumerate(self.spin.tolist()):
                    touch = _as_bends(swinging, swung, spin)
                    if touch is not None:
                        self._take(i, pair, spin, touch)
                spin = swinging.swing.spin(swung.touch, abs(swung.touch))
                self._offer(pair, spin, _as_bends(swinging, swung, spin))

    def certify(self) -> float:
        """Bend (rad) up to which everything is ruled out at every spin; may lower the lowest."""
        below = _BELOW * self.joint.yokes.near.certificate
        while True:
            target = max(0.0, min(self.lowest - below, TOL.bend_limit))
            hit = certify(self.joint.yokes, 0.0, self.joint.turn.end, target)
            if hit is None:
                return target
            self._offer_yokes(*hit)
            self._look_between(self.joint.turn.end / 72.0)

    def _take(
        self, i: int, pair: JointPair, spin: float, touch: Touch | None, mirrored: bool = False
    ) -> None:
        """Enter a touch at sampled spin number i, if nothing touches there before."""
        if touch is not None and not touch.touch >= self.touch[i]:
            self.touch[i], self.clear[i] = touch.touch, touch.clear
            self.contacts[i] = _contact(pair, spin, float(self.spin[i]), touch, mirrored)

    def _offer(self, pair: JointPair, spin: float, touch: Touch | None) -> None:
        if touch is not None and touch.touch < self.lowest:
            self.lowest = touch.touch
            self.first = _contact(pair, spin, spin, touch, mirrored=False)

    def _offer_yokes(self, spin: float, touch: Touch | None) -> None:
        self._offer(self.joint.yoke_pair, spin, touch)

    def _look_between(self, width: float) -> None:
        """Narrow down the lowest touch of the yokes between the sampled spins."""
        while width > _SPIN_STEP and self.first is not None:
            here = self.first.spin
            for spin in (here - width, here + width):
                # Only an upper bound is wanted: what lies below is the certificate's to rule out.
                start = max(0.0, self.lowest - 2.0 * TOL.certificate)
                self._offer_yokes(spin, first_touch(self.joint.yokes, spin, start, self.lowest))
            width *= 0.5


_SPIN_STEP = 2e-3
"""rad. Where the search between spins ends; a lower contact missed by it is found and taken over
while certifying."""

_BELOW = 0.9
"""Share of the allowed bracket used between the contact and the certificate; the rest covers the
bracket of the contact itself."""


def _as_bends(pair: SwingingPair, swung: Touch, spin: float) -> Touch | None:
    """A touch found by swing, told by bend at one spin; None where it is out of reach there."""
    clear, touch = (pair.swing.bend(angle, spin) for angle in (swung.clear, swung.touch))
    if not touch <= TOL.bend_limit:
        return None
    return Touch(clear, touch, swung.nearest)


def _contact(pair: JointPair, folded: float, spin: float, touch: Touch, mirrored: bool) -> Contact:
    """Contact in the joint frame, from the nearest points in the frame of the pair's first."""
    joint = rotations(touch.clear, folded)
    R_JA = joint.R_JD if pair.bodies[0] == DRIVING else joint.R_JN
    points = np.stack([touch.nearest.point_a, touch.nearest.point_b]) @ R_JA.T
    if mirrored:
        points = points * np.array([1.0, 1.0, -1.0])
    points.flags.writeable = False
    surfaces = pair.surfaces(touch.nearest, touch.clear, folded)
    return Contact(pair.bodies, surfaces, points, touch.clear, spin)
