"""The marks of things near the shaft: where one is hit, or how near it is, and what comes nearest.

They say their verdict as the marks of the joints do, by colour and by shape, and nothing hides
them. What is clear in this pose has none, unless it was chosen.
"""

from collections.abc import Iterable

import numpy as np

from sim.around.surroundings import SurroundingGap
from sim.findings import Finding, Verdict
from sim.frames import pose, unit
from sim.pose import PoseCheck
from viewer.draw.base import WHITE, Pen
from viewer.draw.camera import LEFT, UP, Floats
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import ring
from viewer.live.looks import SIZE, Look
from viewer.live.sight import NEAR, Sight
from viewer.scene.mount import SHAFT, Frames
from viewer.words.captions import near_words

RING = 0.05
"""Radius of the ring around the place, as a share of what is seen from edge to edge."""

SPOKEN = 1.5
"""Radii of that ring that words keep out of."""

SIDEWAYS = 0.8
"""Share of the way from a thing to the shaft, sideways, from which on it is seen from above."""

ROUND = 0.4
"""How far the eye goes round to the side where the shaft is, which the thing does not hide."""


def chosen_thing(finding: Finding | None) -> str:
    """Name of the thing near the shaft that a finding is about; "" where it is about none."""
    return finding.subject if finding is not None and finding.code == "surroundings" else ""


class NearMarks:
    """What the stage shows about all things near the shaft."""

    def __init__(self, stage: Stage, look: Look) -> None:
        self._stage, self._look = stage, look
        self._gaps: dict[str, SurroundingGap] = {}
        self._drawn: dict[str, tuple[Verdict, str]] = {}
        self._frames: Frames = {}

    def pose(self, frames: Frames, now: PoseCheck, chosen: str) -> None:
        """Mark what is hit or too near in this pose, and the thing of that name anyway."""
        self._frames, wanted = frames, now.rig.wanted.clearance.mm
        told = {gap.name: (gap, gap.verdict(wanted)) for gap in now.surroundings}
        told = {name: it for name, it in told.items() if it[1] != "clear" or name == chosen}
        for name in self._gaps.keys() - told.keys():
            self._remove(name)
        self._gaps = {name: gap for name, (gap, _) in told.items()}
        for gap, verdict in told.values():
            self._draw(gap, verdict)

    def clear(self) -> None:
        """Take every mark away."""
        for name in self._gaps:
            self._remove(name)
        self._gaps = {}

    def face(self, sight: Sight) -> None:
        """Turn rings and words toward the eye."""
        for name, gap in self._gaps.items():
            X = pose(RING * sight.camera.span * sight.camera.R_VC.T, _middle(gap))
            _, around, words = _names(name)
            self._stage.move(around, X)
            self._stage.move(words, X)

    def seen_from(self, name: str) -> tuple[Floats, Floats] | None:
        """Place of a thing's mark, (3,) mm in C, and where it tells most from, (3,) toward the eye.

        From the left or from above, whichever shows how far they are apart, and from the side on
        which the shaft is. None where it has no mark.
        """
        gap = self._gaps.get(name)
        if gap is None:
            return None
        place, X = gap.points[1], self._frames[SHAFT]
        off = X[:3, 3] - place
        off = off - (off @ X[:3, 0]) * X[:3, 0]
        size = float(np.linalg.norm(off))
        off = UP if size < 1e-6 else off / size
        side = UP if abs(off[1]) > SIDEWAYS else LEFT
        return _middle(gap), unit(side + ROUND * off)

    # Inside

    def _remove(self, name: str) -> None:
        self._drawn.pop(name, None)
        for what in _names(name):
            self._stage.remove(what)

    def _draw(self, gap: SurroundingGap, verdict: Verdict) -> None:
        """Put up what stands for it where other is there, and lay the line of the gap."""
        stage, look, colour = self._stage, self._look, self._look.verdicts[verdict]
        between, around, words = _names(gap.name)
        text, before = near_words(gap), self._drawn.get(gap.name)
        if before is None or before[0] != verdict:
            self._remove(gap.name)
            for pen in (Pen(WHITE, 5.0), Pen(colour, 2.6)):
                stage.lines(between, _ALONG, pen, np.eye(4), on_top=True)
            flat = ring(verdict)
            flat = np.concatenate([flat, np.zeros((*flat.shape[:2], 1))], axis=-1)
            for pen in (Pen(WHITE, 6.5), Pen(colour, 3.4)):
                stage.lines(around, flat, pen, np.eye(4), on_top=True)
        if before != (verdict, text):
            letters, plate = look.letters(SIZE, True), look.framed(verdict)
            stage.words(words, text, np.array([0.0, 1.3, 0.0]), letters, plate, SPOKEN)
        self._drawn[gap.name] = verdict, text
        X = np.eye(4)
        X[:3, 0], X[:3, 3] = gap.points[1] - gap.points[0], gap.points[0]
        if not gap.touches:
            stage.move(between, X)
        stage.show(between, not gap.touches)


_ALONG = np.array([[[0.0, 0.0, 0.0], [1.0, 0.0, 0.0]]])
"""A line that is stretched from the part to the thing."""


def _middle(gap: SurroundingGap) -> Floats:
    return np.asarray(gap.points.mean(axis=0))


def _names(thing: str) -> Iterable[str]:
    """What the stage calls the line of a gap to a thing, the ring there, and its words."""
    return tuple(f"{NEAR} {thing} {what}" for what in ("gap", "ring", "words"))
