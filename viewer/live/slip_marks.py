"""The marks of the slip: the spline that is engaged, what is missing of it, what is left both ways.

Its verdict is said twice, by colour and by shape: the engaged spline is plain where the slip is
clear, ringed where it is close, and hatched where it runs out. What is missing, and what would be
in the bottom of the bore, is hatched red at its true place and length, and nothing hides it.
"""

from dataclasses import replace
from functools import cache
from math import isinf

import numpy as np

from geometry.mesh import Mesh
from geometry.solids import cylinder
from geometry.spline import spline_shaft
from sim.findings import Verdict, judged, worst_of
from sim.frames import pose
from sim.pose import PoseCheck
from viewer.draw.base import BLACK, WHITE, Colour, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import ring
from viewer.live.looks import SIZE, Look
from viewer.live.sight import SLIP, Sight
from viewer.scene.mount import Frames
from viewer.scene.parts import MATERIALS
from viewer.scene.slip_place import SlipNow, SlipPlace
from viewer.words.captions import slip_caption, slip_side_caption

THICKER = 0.5
"""How far the colour of the engaged spline stands out of its teeth, mm."""

AWAY = 12.0
"""From what the spline slides in to the lines of what is left, mm."""

LEAST = 1e-7
"""mm. A stretch is drawn no shorter, so that what it is made of stays what it is."""

HATCHES = 7
"""Lines round a stretch, however long."""

ENGAGED, MISSING, APART, DRIVEN = "slip engaged", "slip missing", "slip apart", "slip driven in"
CLOSES, OPENS, WORDS, RING = "slip to close", "slip to open", "slip words", "slip ring"
CLOSES_WORDS, OPENS_WORDS = "slip to close words", "slip to open words"

_ALONG = (ENGAGED, MISSING, APART, DRIVEN)
_ALL = (*_ALONG, CLOSES, OPENS, WORDS, RING, CLOSES_WORDS, OPENS_WORDS)

Stretch = tuple[float, float]


class SlipMarks:
    """What the stage shows about the slip."""

    def __init__(self, stage: Stage, place: SlipPlace, look: Look) -> None:
        self._stage, self._place, self._look = stage, place, look
        self._X: Floats | None = None
        self._slip: SlipNow | None = None
        self._verdict: Verdict | None = None
        self._sides: tuple[Verdict | None, ...] = (None, None)
        self._drawn: tuple[Verdict | None, ...] | None = None
        self._said: tuple[str, ...] = ()
        self._near = False

    @property
    def ends(self) -> Floats:
        """Both ends, (2, 3) mm in C, of where the slip is and may get to."""
        place, tip = self._place, 0.0 if self._slip is None else self._slip.tip
        low, high = min(place.bottom, tip), max(place.mouth, place.limit, tip)
        return np.stack([self._at(low), self._at(high)])

    @property
    def thick(self) -> float:
        """Diameter of what the spline slides in, mm."""
        return self._place.outside

    def pose(self, frames: Frames, now: PoseCheck) -> None:
        """Go to where the slip is now."""
        self._X = frames[self._place.frame]
        self._slip = slip = self._place.at(float(now.state.line.slip))
        reserve = now.rig.wanted.slip.mm
        self._sides = tuple(
            None if isinf(left) else judged(left, reserve)
            for left in (now.closes_left, now.opens_left)
        )
        known = [side for side in self._sides if side is not None]
        self._verdict = worst_of(known) if known else None
        self._draw()
        for name, stretch in (
            (ENGAGED, slip.engaged),
            (MISSING, slip.missing),
            (APART, slip.apart),
            (DRIVEN, slip.driven_in),
        ):
            self._lay(name, stretch)
        self._say(now)

    def clear(self) -> None:
        """Take every mark away."""
        for name in _ALL:
            self._stage.remove(name)
        self._drawn, self._said, self._slip, self._X = None, (), None, None

    @property
    def middle(self) -> Floats | None:
        """Where its telling place is, (3,) mm in C: what is short of it, else the spline's end."""
        if self._slip is None:
            return None
        first, last = self._slip.telling
        return self._at(0.5 * (first + last))

    @property
    def frame(self) -> Floats | None:
        """Pose (4, 4) in C of what the spline slides in, x along its axis; None out of reach."""
        return self._X

    def face(self, sight: Sight) -> None:
        """Turn lines and words toward the eye."""
        if self._X is None or self._slip is None:
            return
        self._near = near = sight.on == SLIP
        slip, place, R = self._slip, self._place, sight.camera.R_VC
        x = self._X[:3, 0]
        aside = np.cross(x, R[2])
        size = float(np.linalg.norm(aside))
        aside = -R[1] if size < 1e-6 else aside / size
        aside = -aside if aside @ R[1] > 0.0 else aside  # below it on the screen
        far = (0.5 * place.outside + AWAY) * aside
        X = pose(np.stack([x, aside, np.cross(x, aside)], axis=-1), self._X[:3, 3] + far)
        closes, opens = self._left(slip)
        for name, words, stretch in (
            (CLOSES, CLOSES_WORDS, closes),
            (OPENS, OPENS_WORDS, opens),
        ):
            self._stage.move(name, X @ _stretched(stretch))
            middle = self._at(0.5 * (stretch[0] + stretch[1])) + far + 1.2 * AWAY * aside
            self._stage.move(words, pose(np.eye(3), middle))
            self._stage.show(words, near)
        middle = self.middle
        if middle is not None:
            round_it = max(0.75 * place.outside, 0.6 * abs(np.subtract(*slip.telling)))
            for name in (RING, WORDS):
                self._stage.move(name, pose(round_it * R.T, middle))
            self._stage.show(RING, not near)

    # Inside

    def _at(self, x: float) -> Floats:
        X = np.eye(4) if self._X is None else self._X
        return np.asarray(X[:3, 3] + x * X[:3, 0])

    def _lay(self, name: str, stretch: Stretch) -> None:
        """Let what is one mm long along x take up a stretch of the axis."""
        if self._X is not None:
            self._stage.move(name, self._X @ _stretched(stretch))
        self._stage.show(name, stretch[1] > stretch[0])

    def _left(self, slip: SlipNow) -> tuple[Stretch, Stretch]:
        """Where the lines of what is left to close and to open run; red is what is too far."""
        bottom, tip, limit = self._place.bottom, slip.tip, self._place.limit
        return (min(bottom, tip), max(bottom, tip)), (min(tip, limit), max(tip, limit))

    def _colour(self, verdict: Verdict | None) -> Colour:
        return self._look.neutral if verdict is None else self._look.verdicts[verdict]

    def _draw(self) -> None:
        """Put up what is moved and stretched from now on, if it is not there as it should be."""
        sides = self._sides
        if sides == self._drawn:
            return
        self._drawn = sides
        for name in (*_ALONG, CLOSES, OPENS, RING):
            self._stage.remove(name)
        place, look, verdict = self._place, self._look, self._verdict
        colour, still, red = self._colour(verdict), np.eye(4), look.verdicts["touches"]
        thick, teeth = place.spline + 2.0 * THICKER, place.teeth
        self._stage.solid(ENGAGED, _spline(thick, teeth), Paint(colour, 0.2, glow=0.5), still)
        lines = _bands(verdict, 0.5 * thick + 0.2)
        if len(lines):
            self._stage.lines(ENGAGED, lines, Pen(WHITE, 1.6), still)
        bar, hatch = _bar(place.spline + 3.0), _hatches(0.5 * place.spline + 1.6)
        for name in (MISSING, DRIVEN):
            self._stage.solid(name, bar, MATERIALS["mark"], still, on_top=True)
            for pen in (Pen(WHITE, 3.0), Pen(BLACK, 1.2)):
                self._stage.lines(name, hatch, pen, still, on_top=True)
        rims = _rims(0.5 * place.spline + 3.0)
        for pen in (Pen(WHITE, 5.0), Pen(red, 3.0)):
            self._stage.lines(APART, rims, pen, still, on_top=True)
        for name, side in zip((CLOSES, OPENS), sides, strict=True):
            for pen in (Pen(look.paper, 5.5), Pen(self._colour(side), 3.0)):
                self._stage.lines(name, _MEASURE, pen, still, on_top=True)
        if verdict is not None and verdict != "clear":
            flat = ring(verdict)
            flat = np.concatenate([flat, np.zeros((*flat.shape[:2], 1))], axis=-1)
            for pen in (Pen(look.paper, 5.8), Pen(colour, 3.4)):
                self._stage.lines(RING, flat, pen, still, on_top=True)

    def _say(self, now: PoseCheck) -> None:
        apart = None if self._slip is None else self._slip.apart_by
        said = (
            slip_caption(now.closes_left, now.opens_left, apart),
            slip_side_caption(now.closes_left, "close"),
            slip_side_caption(now.opens_left, "open"),
            str(self._verdict),
        )
        if said == self._said:
            return
        self._said = said
        look, verdict, origin = self._look, self._verdict, np.zeros(3)
        plate = look.edged(look.ink) if verdict is None else look.framed(verdict)
        above, letters = np.array([0.0, 1.3, 0.0]), look.letters(SIZE, True)
        self._stage.words(WORDS, said[0], above, letters, plate, clear=1.1)
        letters = replace(look.letters(SIZE), align="middle")
        for name, text in ((CLOSES_WORDS, said[1]), (OPENS_WORDS, said[2])):
            self._stage.words(name, text, origin, letters, look.plate)


def _stretched(stretch: Stretch) -> Floats:
    """Pose (4, 4) that lays what is one mm long from x = 0 on a stretch."""
    start, end = stretch
    X = np.diag([max(end - start, LEAST), 1.0, 1.0, 1.0])
    X[0, 3] = start
    return X


_MEASURE = np.array(
    [
        [[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]],
        *([[x, -0.6 * AWAY, 0.0], [x, 0.6 * AWAY, 0.0]] for x in (0.0, 1.0)),
    ]
)
"""A line one mm long with a bar at either end."""


@cache
def _spline(diameter: float, teeth: int) -> Mesh:
    return spline_shaft(diameter, teeth, 0.0, 1.0).mesh()


@cache
def _bar(diameter: float) -> Mesh:
    return cylinder("x", 0.5 * diameter, 0.0, 1.0, "missing").mesh()


def _bands(verdict: Verdict | None, radius: float) -> Floats:
    """Lines over the engaged spline: none where it is clear, rings where close, hatched else."""
    if verdict is None or verdict == "clear":
        return np.empty((0, 2, 3))
    return _hatches(radius) if verdict == "touches" else _circles(radius, np.arange(1, 8) / 8.0)


def _hatches(radius: float) -> Floats:
    """Lines that wind round a stretch, (n, 2, 3)."""
    share = np.linspace(0.0, 1.0, 13)
    turns = 2.0 * np.pi * np.arange(2 * HATCHES) / (2 * HATCHES)
    angle = turns[:, None] + 0.9 * np.pi * share
    points = np.stack(
        [np.broadcast_to(share, angle.shape), radius * np.cos(angle), radius * np.sin(angle)], -1
    )
    return np.stack([points[:, :-1], points[:, 1:]], axis=2).reshape(-1, 2, 3)


def _rims(radius: float) -> Floats:
    """Rings at both ends of a stretch, and broken lines between them."""
    angle = np.radians([45.0, 135.0, 225.0, 315.0])
    at = np.linspace(0.0, 1.0, 10).reshape(-1, 2)
    dashes = [
        [[x, radius * np.cos(a), radius * np.sin(a)] for x in ends] for a in angle for ends in at
    ]
    return np.concatenate([_circles(radius, np.array([0.0, 1.0])), np.array(dashes)])


def _circles(radius: float, at: Floats) -> Floats:
    """Rings round the axis at places on it, (n, 2, 3)."""
    turn = np.linspace(0.0, 2.0 * np.pi, 37)
    rim = radius * np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    flat = np.stack([rim[:-1], rim[1:]], axis=1)
    return np.concatenate(
        [np.concatenate([np.full((*flat.shape[:2], 1), x), flat], axis=-1) for x in at]
    )
