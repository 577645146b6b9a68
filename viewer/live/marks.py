"""The marks of one joint: its ring and words, the place where it is tightest, what would give.

Every mark says its verdict twice, by colour and by shape: clear is a thin plain ring, close a
dashed one, touches a broad one with four ticks. What metal hides of the place that is tightest is
drawn faint and dashed over it.
"""

from functools import cache

import numpy as np

from geometry.contact.gap import Gap
from geometry.mesh import Mesh
from sim.findings import Verdict
from sim.frames import pose
from sim.hardware.head import EndHardware, cross_of
from sim.pose import PosedJoint
from sim.vehicle import Joint
from viewer.draw.base import WHITE, Colour, Paint, Pen
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.draw.verdict_mark import ring
from viewer.live.looks import SIZE, Look
from viewer.live.patch import hatching, patches
from viewer.live.sight import Sight
from viewer.scene.joint_bodies import CrossAt, JointFrame, crosses_of
from viewer.scene.parts import MATERIALS
from viewer.scene.spot import Spot, look, overlap, spots_of
from viewer.scene.stand_ins import ball
from viewer.session.charts.turn_strip import verdict_here
from viewer.words.captions import joint_caption, short_gap, surface_pair
from viewer.words.now import room_words

RING = 0.032
"""Radius of the ring around a tight place, as a share of what is seen from edge to edge."""

SPOKEN = 1.3
"""Radii of that ring that words keep out of."""

DASHES = 4
"""Dashes of the line of a gap where metal hides it."""

HIDDEN = 0.6
"""How dense that is which metal hides."""

STILL = np.eye(4)

WIDTHS: dict[Verdict, float] = {"clear": 1.6, "close": 2.4, "touches": 3.4}
"""Width, px, of the ring around a joint."""


class JointMarks:
    """What the stage shows about one joint."""

    def __init__(self, stage: Stage, joint: Joint, hardware: EndHardware, look: Look) -> None:
        self._stage, self.joint, self._hardware, self._look = stage, joint, hardware, look
        self._names = {what: f"{joint} {what}" for what in _WHAT}
        yokes = hardware.driving, hardware.driven
        self.reach = 1.12 * max(_ear_reach(each.contact) for each in yokes)
        self.frame: JointFrame | None = None
        self.gap: Gap | None = None
        self._spots: list[Spot] = []
        self._measured_at = (0.0, 0.0)
        self._verdict: Verdict | None = None
        self._text = ""
        self._near = self._said_near = False
        self._now: PosedJoint | None = None

    @property
    def wants_bite(self) -> bool:
        """Whether the common metal is still to be found."""
        return self.gap is not None and self.gap.overlaps

    def pose(self, frame: JointFrame, now: PosedJoint) -> None:
        """Go to where the joint is now; what was measured in another pose is put away."""
        self.frame = frame
        if self.gap is not None and (now.bend, now.spin) != self._measured_at:
            self.measured(None, now)
        self._show(now)
        cross = self._cross
        if cross is not None:
            for what in ("gap", "gap behind", "patch", "bite"):
                self._stage.move(self._names[what], cross.X_CK)

    def measured(self, gap: Gap | None, now: PosedJoint) -> None:
        """Show the place where the joint is tightest in this pose."""
        self.gap, self._measured_at = gap, (now.bend, now.spin)
        for what in _OF_A_GAP:
            self._stage.remove(self._names[what])
        cross = self._cross
        if gap is None or cross is None:
            return
        self._spots = spots_of(gap.points, gap.distance, None)
        self._show(now)
        verdict = self._here(now)
        self._draw_gap(gap, cross, self._look.verdicts[verdict])
        if verdict != "clear":
            self._draw_patches(gap, cross, verdict)
            self._draw_spot(verdict)

    def bite(self) -> None:
        """Find and show the metal that would have to give."""
        name, gap, cross = self._names["bite"], self.gap, self._cross
        self._stage.remove(name)
        common = None if gap is None or cross is None else overlap(*cross.meeting(gap))
        if gap is None or cross is None or common is None:
            return
        self._spots = spots_of(gap.points, gap.distance, common)
        self._draw_patches(gap, cross, "touches")
        for spot in self._spots:
            if spot.bite is not None:
                self._stage.solid(name, spot.bite, MATERIALS["mark"], cross.X_CK, on_top=True)

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
            if self._now is not None:
                self._show(self._now)
        R, centre = camera.R_VC.T, self.frame.centre
        self._stage.move(self._names["words"], pose(R, centre))
        self._stage.move(self._names["ring"], pose(self.reach * R, centre))
        place = self._place
        if place is not None:
            size = RING * camera.span
            for what in ("spot behind", "spot words"):
                self._stage.move(self._names[what], pose(size * R, place))
            # In front of the skin around it, but not of metal that lies before the place.
            place, smaller = sight.nearer(place, size)
            self._stage.move(self._names["spot"], pose(smaller * size * R, place))

    @property
    def spot(self) -> Floats | None:
        """The tight place, (3,) mm in C, unless there is plenty of room."""
        return None if self._verdict == "clear" else self._place

    @property
    def _place(self) -> Floats | None:
        """Where the gap is, (3,) mm in C."""
        cross = self._cross
        return None if cross is None else cross.X_CK[:3, :3] @ self._spots[0].at + cross.X_CK[:3, 3]

    @property
    def _cross(self) -> CrossAt | None:
        """The cross that the gap is at, where it stands now; None without a gap."""
        if self.gap is None or self.frame is None:
            return None
        return crosses_of(self.frame, self._hardware, self.gap)[cross_of(self.gap)]

    def telling_side(self) -> Floats | None:
        """Direction (3,) in C from which the tight place is best seen; None without one."""
        cross = self._cross
        if self.gap is None or self.frame is None or cross is None or self._verdict == "clear":
            return None
        R = cross.X_CK[:3, :3]
        toward, _ = look(self._spots, cross.meeting(self.gap), self.frame.axes @ R)
        return np.asarray(R @ toward)

    def clear(self) -> None:
        """Take every mark away."""
        for name in self._names.values():
            self._stage.remove(name)
        self._verdict, self._text, self.gap, self._now = None, "", None, None

    def _here(self, now: PosedJoint) -> Verdict:
        """Verdict at this very turn: marks stand for what is seen, not for the turns to come."""
        return verdict_here(now, self.gap)

    def _show(self, now: PosedJoint) -> None:
        """Show the ring and the words that stand for this turn, if others are there."""
        self._now = now
        verdict, name = self._here(now), self._names["ring"]
        here = "" if self.gap is None else short_gap(self.gap, verdict)
        text = joint_caption(self.joint, now.bend, room_words(now), here)
        if (verdict, text, self._near) == (self._verdict, self._text, self._said_near):
            return
        if verdict != self._verdict:
            self._stage.remove(name)
            width, colour = WIDTHS[verdict], self._look.verdicts[verdict]
            pens = Pen(self._look.paper, width + 2.4), Pen(colour, width)
            self._draw(name, flat(ring(verdict)), pens, on_top=True)
            self._stage.show(name, not self._near)
        self._verdict, self._text, self._said_near = verdict, text, self._near
        letters, plate = self._look.letters(SIZE, True), self._look.framed(verdict)
        at = np.array([0.0, 1.12 * self.reach, 0.0])
        # Close up the joint is all there is, and its words have no other place.
        clear = 0.0 if self._near else 1.06 * self.reach
        self._stage.words(self._names["words"], text, at, letters, plate, clear)

    def _draw(
        self, name: str, segments: Floats, pens: tuple[Pen, ...], X: Floats = STILL,
        on_top: bool = False,
    ) -> None:  # fmt: skip
        """Draw segments with one pen after the other, the broader first."""
        for pen in pens:
            self._stage.lines(name, segments, pen, X, on_top)

    def _draw_patches(self, gap: Gap, cross: CrossAt, verdict: Verdict) -> None:
        name, paint = self._names["patch"], Paint(self._look.verdicts[verdict], 0.2, glow=0.55)
        self._stage.remove(name)
        points = gap.points if self._spots[0].bite is None else [self._spots[0].at] * 2
        for patch in patches(cross.meeting(gap), gap.surfaces, points):
            self._stage.solid(name, patch, paint, cross.X_CK)
            self._stage.lines(name, hatching(patch), Pen(WHITE, 1.3), cross.X_CK)

    def _draw_spot(self, verdict: Verdict) -> None:
        colour, behind = self._look.verdicts[verdict], self._names["spot behind"]
        pens = Pen(WHITE, 6.5), Pen(colour, 3.4)
        self._draw(self._names["spot"], flat(ring(verdict)), pens)
        # Without the white, which would be all that is left of it where it is faint.
        self._draw(behind, flat(ring(verdict, hidden=True)), (Pen(colour, 2.0),), on_top=True)
        self._stage.fade(behind, HIDDEN)
        self._say_spot()

    def _draw_gap(self, gap: Gap, cross: CrossAt, colour: Colour) -> None:
        """The line between the two nearest points, with a ball at either end."""
        if gap.overlaps or gap.distance <= 0.0:
            return
        name, behind, X = self._names["gap"], self._names["gap behind"], cross.X_CK
        self._draw(name, gap.points[None], (Pen(WHITE, 5.0), Pen(colour, 2.6)), X)
        size = min(1.1, 0.25 * gap.distance + 0.3)
        for point in gap.points:
            self._stage.solid(name, _ball(point, size), Paint(colour, glow=0.8), X)
        self._draw(behind, _dashed(gap.points), (Pen(colour, 2.0),), X, on_top=True)
        self._stage.fade(behind, HIDDEN)

    def _say_spot(self) -> None:
        name, cross = self._names["spot words"], self._cross
        if self.gap is None or cross is None or not self._near or self._verdict == "clear":
            self._stage.remove(name)
            return
        text = "\n".join(surface_pair(cross.hardware.names(self.gap), self.gap.surfaces))
        letters, plate = self._look.letters(SIZE), self._look.plate
        self._stage.words(name, text, np.array([1.5, -1.9, 0.0]), letters, plate, SPOKEN)


_OF_A_GAP = ("gap", "gap behind", "patch", "bite", "spot", "spot behind", "spot words")

_WHAT = ("ring", "words", *_OF_A_GAP)


def _dashed(ends: Floats) -> Floats:
    """Dashes from point to point, (2, 3) to (n, 2, 3)."""
    shares = np.arange(2 * DASHES).reshape(-1, 2) / (2.0 * DASHES - 1.0)
    return np.asarray(ends[0] + shares[..., None] * (ends[1] - ends[0]))


def flat(segments: Floats) -> Floats:
    """Segments (n, 2, 2) as such of space, in the plane z = 0."""
    return np.concatenate([segments, np.zeros((*segments.shape[:2], 1))], axis=-1)


def _ear_reach(mesh: Mesh) -> float:
    """Radius (mm) about the cross centre of the ears of a yoke."""
    near = mesh.vertices[mesh.vertices[:, 0] < 0.25 * mesh.vertices[:, 0].max()]
    return float(np.linalg.norm(near if len(near) else mesh.vertices, axis=1).max())


@cache
def _unit_ball() -> Mesh:
    return ball(1.0, 8).mesh()


def _ball(at: Floats, size: float) -> Mesh:
    """A ball around a point, both mm."""
    unit = _unit_ball()
    return Mesh.uniform(at + size * unit.vertices, unit.faces, "end")
