"""The marks of one joint: its ring and words, the place where it is tightest, what would give.

Every mark says its verdict twice, by colour and by shape: clear is a thin plain ring, close a
dashed one, touches a broad one with four ticks. What metal hides of the place that is tightest is
drawn faint and dashed over it.
"""

from functools import cache
from math import degrees

import numpy as np

from geometry.contact.gap import Gap
from geometry.mesh import Mesh
from geometry.solids import turned
from sim.findings import Verdict
from sim.head.hardware import EndHardware
from sim.vehicle import Joint
from viewer.draw.base import WHITE, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import ring
from viewer.live.looks import SIZE, Look
from viewer.live.patch import crossing_joint, hatching, patches, posed_bodies
from viewer.live.sight import Sight
from viewer.scene.build_joint import JointFrame, found_frame
from viewer.scene.marks import short_length
from viewer.scene.overlap import bites
from viewer.scene.parts import MATERIALS
from viewer.scene.side import telling_side
from viewer.session.pose_now import JointNow

RING = 0.032
"""Radius of the ring around a tight place, as a share of what is seen from edge to edge."""

DASHES = 4
"""Dashes of the line of a gap where metal hides it."""

HIDDEN = 0.5
"""How dense that is which metal hides."""


class JointMarks:
    """What the stage shows about one joint."""

    def __init__(self, stage: Stage, joint: Joint, hardware: EndHardware, look: Look) -> None:
        self._stage, self.joint, self._hardware, self._look = stage, joint, hardware, look
        self._names = {what: f"{joint} {what}" for what in _WHAT}
        yokes = hardware.driving, hardware.driven
        self.reach = 1.12 * max(_ear_reach(each.contact) for each in yokes)
        self.frame: JointFrame | None = None
        self.gap: Gap | None = None
        self._measured_at = (0.0, 0.0)
        self._verdict: Verdict | None = None
        self._spot: Verdict | None = None
        self._text = ""
        self._near = False
        self._points = np.zeros((2, 3))

    @property
    def wants_bite(self) -> bool:
        """Whether the common metal is still to be found."""
        return self.gap is not None and self.gap.overlaps

    def pose(self, frame: JointFrame, now: JointNow) -> None:
        """Go to where the joint is now; what was measured in another pose is put away."""
        self.frame = frame
        if self.gap is not None and (now.bend, now.spin) != self._measured_at:
            self.measured(None, now)
        self._ring(now)
        self._say(now)
        X = self._found_at
        if X is not None:
            for what in ("gap", "gap behind", "patch", "bite"):
                self._stage.move(self._names[what], X)

    def measured(self, gap: Gap | None, now: JointNow) -> None:
        """Show the place where the joint is tightest in this pose."""
        self.gap, self._measured_at = gap, (now.bend, now.spin)
        for what in _OF_A_GAP:
            self._stage.remove(self._names[what])
        X = self._found_at
        if gap is None or X is None:
            return
        self._ring(now)
        self._spot = self._here(now)
        self._points = gap.points
        self._draw_gap(gap, X)
        if self._spot != "clear":
            self._draw_patches(gap, X)
            self._draw_spot(self._spot)
        self._text = ""
        self._say(now)

    def bitten(self, common: Mesh | None) -> None:
        """Show the metal that would have to give."""
        name = self._names["bite"]
        self._stage.remove(name)
        X = self._found_at
        pieces = () if common is None else bites(common)
        if not pieces or self.gap is None or X is None:
            return
        self._points = np.stack([pieces[0].middle, pieces[0].middle])
        self._draw_patches(self.gap, X)
        for piece in pieces:
            self._stage.solid(name, piece.mesh, MATERIALS["mark"], X, on_top=True)

    def face(self, sight: Sight) -> None:
        """Turn rings and words toward the eye."""
        if self.frame is None:
            return
        camera, near = sight.camera, sight.on == self.joint
        if near != self._near:
            self._near = near
            # Close up the ring around the whole joint would only be in the way.
            self._stage.show(self._names["ring"], not near)
            self._say_spot()
        X = np.eye(4)
        X[:3, :3], X[:3, 3] = camera.R_VC.T, self.frame.centre
        self._stage.move(self._names["words"], X)
        X[:3, :3] *= self.reach
        self._stage.move(self._names["ring"], X)
        place = self._place
        if place is not None:
            size = RING * camera.span
            X[:3, :3], X[:3, 3] = camera.R_VC.T * size, place
            for what in ("spot behind", "spot words"):
                self._stage.move(self._names[what], X)
            # In front of the skin around it, but not of metal that lies before the place.
            X[:3, 3], smaller = sight.nearer(X[:3, 3], size)
            X[:3, :3] *= smaller
            self._stage.move(self._names["spot"], X)

    @property
    def spot(self) -> Floats | None:
        """The tight place, (3,) mm in C, unless there is plenty of room."""
        return None if self._spot == "clear" else self._place

    @property
    def _place(self) -> Floats | None:
        """Where the gap is, (3,) mm in C."""
        X = self._found_at
        return None if X is None else X[:3, :3] @ self._points.mean(axis=0) + X[:3, 3]

    @property
    def _found_at(self) -> Floats | None:
        """Pose (4, 4) in C of the frame that the gap's points are in; None without a gap."""
        if self.gap is None or self.frame is None:
            return None
        return found_frame(self.frame, self._hardware, self.gap)

    def telling_side(self) -> Floats | None:
        """Direction (3,) in C from which the tight place is best seen; None without one."""
        X = self._found_at
        if self.gap is None or self.frame is None or X is None or self._spot == "clear":
            return None
        R = X[:3, :3]
        skin = 2.5 if self.gap.overlaps else 0.6
        bodies = posed_bodies(self._hardware, self.gap)
        toward, _ = telling_side(bodies, self.frame.axes @ R, self._points, skin=skin)
        return np.asarray(R @ toward)

    def clear(self) -> None:
        """Take every mark away."""
        for name in self._names.values():
            self._stage.remove(name)
        self._verdict, self._text, self.gap = None, "", None

    def _here(self, now: JointNow) -> Verdict:
        """Verdict at this very turn: marks stand for what is seen, not for the turns to come."""
        if self.gap is None:
            return now.here
        if self.gap.overlaps:
            return "touches"
        return "close" if now.here == "touches" else now.here

    def _ring(self, now: JointNow) -> None:
        """Put the ring around the joint that stands for this turn, if another one is there."""
        if self._here(now) != self._verdict:
            self._verdict = self._here(now)
            self._draw_ring(self._verdict)
            self._text = ""

    def _draw_ring(self, verdict: Verdict) -> None:
        name, colour = self._names["ring"], self._look.verdicts[verdict]
        self._stage.remove(name)
        shape = _flat(ring(verdict))
        width = {"clear": 1.6, "close": 2.4, "touches": 3.4}[verdict]
        self._stage.lines(name, shape, Pen(self._look.paper, width + 2.4), np.eye(4), on_top=True)
        self._stage.lines(name, shape, Pen(colour, width), np.eye(4), on_top=True)
        self._stage.show(name, not self._near)

    def _draw_patches(self, gap: Gap, X: Floats) -> None:
        name, colour = self._names["patch"], self._look.verdicts[self._spot or "clear"]
        self._stage.remove(name)
        for patch in patches(self._hardware, gap, self._points):
            self._stage.solid(name, patch, Paint(colour, 0.2, glow=0.55), X)
            self._stage.lines(name, hatching(patch), Pen(WHITE, 1.3), X)

    def _draw_spot(self, verdict: Verdict) -> None:
        name, colour = self._names["spot"], self._look.verdicts[verdict]
        shape = _flat(ring(verdict))
        self._stage.lines(name, shape, Pen(WHITE, 6.0), np.eye(4))
        self._stage.lines(name, shape, Pen(colour, 3.0), np.eye(4))
        name = self._names["spot behind"]
        behind = _flat(ring(verdict, hidden=True))
        self._stage.lines(name, behind, Pen(colour, 2.0), np.eye(4), on_top=True)
        self._stage.fade(name, HIDDEN)
        self._say_spot()

    def _draw_gap(self, gap: Gap, X: Floats) -> None:
        """The line between the two nearest points, with a ball at either end."""
        if gap.overlaps or gap.distance <= 0.0:
            return
        name, colour = self._names["gap"], self._look.verdicts[self._spot or "clear"]
        self._stage.lines(name, gap.points[None], Pen(WHITE, 5.0), X)
        self._stage.lines(name, gap.points[None], Pen(colour, 2.6), X)
        size = min(1.1, 0.25 * gap.distance + 0.3)
        for point in gap.points:
            self._stage.solid(name, _ball(point, size), Paint(colour, glow=0.8), X)
        name = self._names["gap behind"]
        self._stage.lines(name, _dashed(gap.points), Pen(colour, 2.0), X, on_top=True)
        self._stage.fade(name, HIDDEN)

    def _say(self, now: JointNow) -> None:
        room = now.room.replace(" deg", "°")
        text = f"{self.joint} joint {degrees(now.bend):.1f}°, {room}"
        if self.gap is not None:
            gap = self.gap
            here = "metal in metal" if gap.overlaps else f"gap {short_length(gap.distance)}"
            text += f"\n{here} at this turn"
        if text != self._text:
            self._text = text
            at = np.array([0.0, 1.12 * self.reach, 0.0])
            look = self._look
            self._stage.words(
                self._names["words"],
                text,
                at,
                look.letters(SIZE, True),
                look.framed(self._here(now)),
            )

    def _say_spot(self) -> None:
        name = self._names["spot words"]
        if self.gap is None or not self._near or self._spot in (None, "clear"):
            self._stage.remove(name)
            return
        bodies = crossing_joint(self._hardware, self.gap).names(self.gap)
        pair = zip(bodies, self.gap.surfaces, strict=True)
        text = "\n".join(f"{body}: {surface}" for body, surface in pair)
        look = self._look
        self._stage.words(name, text, np.array([1.5, -1.9, 0.0]), look.letters(SIZE), look.plate)


_OF_A_GAP = ("gap", "gap behind", "patch", "bite", "spot", "spot behind", "spot words")

_WHAT = ("ring", "words", *_OF_A_GAP)


def _dashed(ends: Floats) -> Floats:
    """Dashes from point to point, (2, 3) to (n, 2, 3)."""
    shares = np.arange(2 * DASHES).reshape(-1, 2) / (2.0 * DASHES - 1.0)
    return np.asarray(ends[0] + shares[..., None] * (ends[1] - ends[0]))


def _flat(segments: Floats) -> Floats:
    """Segments (n, 2, 2) as such of space, in the plane z = 0."""
    return np.concatenate([segments, np.zeros((*segments.shape[:2], 1))], axis=-1)


def _ear_reach(mesh: Mesh) -> float:
    """Radius (mm) about the cross centre of the ears of a yoke."""
    near = mesh.vertices[mesh.vertices[:, 0] < 0.25 * mesh.vertices[:, 0].max()]
    return float(np.linalg.norm(near if len(near) else mesh.vertices, axis=1).max())


@cache
def _unit_ball() -> Mesh:
    angle = np.linspace(0.0, np.pi, 9)
    profile = np.column_stack([np.cos(angle), np.sin(angle)])
    profile[[0, -1], 1] = 0.0
    return turned(profile, "x", "end").mesh()


def _ball(at: Floats, size: float) -> Mesh:
    """A ball around a point, both mm."""
    ball = _unit_ball()
    return Mesh.uniform(at + size * ball.vertices, ball.faces, "end")
