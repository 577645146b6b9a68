"""When a joint touches: the touch bend over a whole turn, with a certificate.

For the two yokes the first touch is seen at evenly spaced spins, for the cross by swinging it in
each yoke's bores. The lowest touch is then sought between the spins; then every spin of the turn is
proved clear up to a bend at most `TOL.certificate` below it, and every spin of the curve up to as
little below its own touch (`geometry.contact.first_touch`).

A joint made ready for a gap gives the curve of that gap: up to which bend it is left. There the
turn is proved as a whole and no spin by itself, since nobody asks what is nearest at each.
"""

from dataclasses import dataclass, replace
from math import inf, nan, pi

import numpy as np
from numpy.typing import NDArray

from geometry.contact.course import course
from geometry.contact.first_touch import (
    BELOW,
    Bracket,
    below,
    first_touches,
    prove,
    seen_first,
    touch_of,
)
from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.pair import DRIVING, Pair, SwingingPair
from geometry.contact.row_search import MOST
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

    With a gap, first coming nearer than that: `touch` is where less is seen to be left, and
    `certified_clear` up to where all of it is, which `clear` then tells at every spin; of contacts
    there is the first alone.

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
    course : (2, m) rad, spins by size over [0, 2 pi) and bends; straight lines between them lie
        over the touch by `Closeness.true` at most (`geometry.contact.course`), and at `limit` where
        nothing touches.
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
    course: Array
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
    search.swing_cross()
    search.turn_yokes()
    if joint.gap > 0.0:
        search.clear[:] = search.certified
        search.contacts = [None] * len(search.spin)
    for array in (search.spin, search.touch, search.clear):
        array.flags.writeable = False
    return TouchCurve(
        spin=search.spin,
        touch=search.touch,
        clear=search.clear,
        contacts=tuple(search.contacts),
        touch_min=search.lowest,
        first=search.first,
        certified_clear=search.certified,
        chord=joint.parts.chord,
        limit=TOL.bend_limit,
        course=search.course(),
        gap=joint.gap,
    )


class _Search:
    """The curve and its lowest point as they are found."""

    def __init__(self, joint: ClosingJoint, spins: int) -> None:
        self.joint, self.each = joint, joint.gap == 0.0
        self.spin = np.arange(spins, dtype=np.float64) * (2.0 * pi / spins)
        self.touch = np.full(spins, nan)
        self.clear = np.full(spins, TOL.bend_limit)
        self.contacts: list[Contact | None] = [None] * spins
        self.lowest, self.certified = inf, TOL.bend_limit
        self.first: Contact | None = None
        self.swings: list[tuple[SwingingPair, float, Touch]] = []
        self.asked: dict[tuple[float, float], float] = {}

    def swing_cross(self) -> None:
        """Find how far the cross swings each way, and enter that at every spin."""
        for pair in self.joint.swings:
            for way, swung in zip((-1.0, 1.0), first_touches(pair, (-1.0, 1.0)), strict=True):
                if swung is None:
                    continue
                self.certified = min(self.certified, swung.clear)
                self.swings.append((pair, way, swung))
                for i, spin in enumerate(self.spin.tolist()):
                    self._take(i, pair, spin, _as_bends(pair, way, swung, spin))
                spin = pair.swing.spin(way * swung.touch, swung.touch)
                self._offer(pair, spin, _as_bends(pair, way, swung, spin))

    def turn_yokes(self) -> None:
        """Find the yokes' touch at every spin, and up to which bend all of the turn is clear.

        What is seen bounds the touch from above. The proof below it ends at something lower or at
        nothing; something lower is looked at closely and the proof begun again.
        """
        pair, turn = self.joint.yokes, self.joint.turn
        folded = [(round(line, 12), mirrored) for line, mirrored in map(turn.fold, self.spin)]
        lines = sorted({line for line, _ in folded})
        seen = seen_first(pair, lines)
        each = slice(None) if self.each else slice(0)
        at = min(range(len(lines)), key=lambda i: seen[i].touch)
        spin, lowest = self._between(lines[at], seen[at], pi / len(self.spin))
        rows = MOST
        while True:
            margin = BELOW * pair.near.certificate
            top = max(0.0, min(lowest.touch - margin, self.certified))
            proved = prove(pair, lines[each], seen[each], (0.0, turn.end), top, rows)
            if proved.hit is None:
                break
            spin, lowest = proved.hit
            if not proved.finished:
                break
            rows -= proved.rows
            spin, lowest = self._between(spin, lowest, turn.end / 72.0)
        self.certified = proved.clear
        self._offer(pair, spin, touch_of(pair, spin, lowest))
        touches = {
            line: touch_of(pair, line, bracket)
            for line, bracket in zip(lines[each], proved.lines, strict=True)
        }
        only_seen = {line: bracket.touch for line, bracket in zip(lines, seen, strict=True)}
        for i, (line, mirrored) in enumerate(folded):
            if line in touches:
                self._take(i, pair, line, touches[line], mirrored)
            elif only_seen[line] < inf:
                self.touch[i] = np.fmin(self.touch[i], only_seen[line])

    def _between(self, spin: float, lowest: Bracket, width: float) -> tuple[float, Bracket]:
        """Narrow down the lowest touch of the yokes seen between the sampled spins."""
        pair = self.joint.yokes
        while width > _SPIN_STEP and 0.0 < lowest.touch < inf:
            here = spin
            for aside in (here - width, here + width):
                if lower := below(pair, aside, lowest.touch):
                    spin, lowest = aside, lower
            width *= 0.5
        return spin, lowest

    def course(self) -> Array:
        """The course between the samples, with the lowest touch of all among its corners."""
        at, touch = self.spin, np.where(np.isfinite(self.touch), self.touch, TOL.bend_limit)
        if self.first is not None:
            lowest = np.setdiff1d(self._images(self.first.spin), at)
            at = np.append(at, lowest)
            touch = np.append(touch, np.full(len(lowest), self.lowest))
            order = np.argsort(at)
            at, touch = at[order], touch[order]
        return course(at, touch, self._lower, self.joint.yokes.near.true)

    def _images(self, spin: float) -> list[float]:
        """Spins over a turn that look like this one."""
        turn, full = self.joint.turn, 2.0 * pi
        ways = [spin, -spin] if turn.mirror else [spin]
        halves = (0.0, pi) if turn.half_turn else (0.0,)
        return [round((way + half) % full, 12) for way in ways for half in halves]

    def _lower(self, spins: Array, bends: Array) -> Array:
        """Touch (k,) rad at each of some spins where it is below a bend, else inf."""
        return np.array([self._touch_below(*each) for each in zip(spins, bends, strict=True)])

    def _touch_below(self, spin: float, bend: float) -> float:
        found = bend
        for swinging, way, swung in self.swings:
            touch = swinging.swing.bend(way * swung.touch, spin)
            found = touch if touch < found else found
        line, _ = self.joint.turn.fold(spin)
        key = round(line, 9), round(found, 9)
        if key not in self.asked:
            pair, true = self.joint.yokes, self.joint.yokes.near.true
            lower = below(pair, line, found, true, 0.3 * true)
            self.asked[key] = lower.touch if lower else inf
        found = min(found, self.asked[key])
        return found if found < bend else inf

    def _take(
        self, i: int, pair: Pair, spin: float, touch: Touch | None, mirrored: bool = False
    ) -> None:
        """Enter a touch at sampled spin number i, if nothing touches there before."""
        if touch is not None and not touch.touch >= self.touch[i]:
            self.touch[i], self.clear[i] = touch.touch, touch.clear
            self.contacts[i] = _contact(pair, spin, float(self.spin[i]), touch, mirrored)

    def _offer(self, pair: Pair, spin: float, touch: Touch | None) -> None:
        if touch is not None and touch.touch < self.lowest:
            self.lowest = touch.touch
            self.first = _contact(pair, spin, spin, touch, mirrored=False)


_SPIN_STEP = 2e-3
"""rad. Where the search between spins ends; a lower contact missed by it is found and taken over
by the proof."""


def _as_bends(pair: SwingingPair, way: float, swung: Touch, spin: float) -> Touch | None:
    """A touch found by swing, told by bend at one spin; None where it is out of reach there."""
    clear, touch = (pair.swing.bend(way * angle, spin) for angle in (swung.clear, swung.touch))
    if not touch <= TOL.bend_limit:
        return None
    return replace(swung, clear=clear, touch=touch)


def _contact(pair: Pair, folded: float, spin: float, touch: Touch, mirrored: bool) -> Contact:
    """Contact in the joint frame, from the nearest points in the frame of the pair's first."""
    joint = rotations(touch.clear, folded)
    R_JA = joint.R_JD if pair.bodies[0] == DRIVING else joint.R_JN
    points = np.stack([touch.nearest.point_a, touch.nearest.point_b]) @ R_JA.T
    if mirrored:
        points = points * np.array([1.0, 1.0, -1.0])
    points.flags.writeable = False
    return Contact(pair.bodies, touch.surfaces, points, touch.clear, spin)
