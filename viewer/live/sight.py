"""Which way the live view looks: the views there are, and the one that is on."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from sim.frames import unit
from sim.line import LineState
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import FORWARD, LEFT, UP, Camera, Floats, Region, framing
from viewer.live.eye import carried, orbited
from viewer.live.floor import ARROW_SIZE, beneath
from viewer.scene.joint_bodies import JointFrame
from viewer.scene.mount import SHAFT, Frames
from viewer.scene.part import Part

WHOLE, ALONG, SLIP, NEAR = "whole", "along", "slip", "near"
"""NEAR is where a thing near the shaft is hit; it is looked at when that was chosen."""

PLAIN = SIDE, RIGHT, FRONT, REAR, ABOVE, BELOW = (
    *("side", "right", "front", "rear", "above", "below"),
)
"""Straight views of the whole, in the order of their keys."""

TITLES = {
    WHOLE: "Whole shaft",
    SIDE: "From the left",
    RIGHT: "From the right",
    FRONT: "From the front",
    REAR: "From the rear",
    ABOVE: "From above",
    BELOW: "From below",
    ALONG: "Along the shaft",
    "output": "Output joint",
    "middle": "Middle joint",
    "pinion": "Pinion joint",
    SLIP: "Slip",
    NEAR: "What is near",
}

TOWARD = {
    WHOLE: np.array([0.28, 1.0, 0.30]),
    **{SIDE: LEFT, RIGHT: -LEFT, FRONT: FORWARD, REAR: -FORWARD, ABOVE: UP, BELOW: -UP},
    ALONG: -FORWARD,
}
"""Directions toward the eye of the views of the whole; along the shaft it is the shaft's own."""

SHOWN = ("joints", "shaft", "vehicle")
"""Groups of parts that are not far off."""

AROUND = 0.2
"""Share of the view left free on every side where only the shaft and its joints fill it, for words
and what is around them."""

CLOSE_UP = 2.8
"""Height of what is seen of a joint, in radii of its ears."""

SLIP_WIDE = 0.6
"""Share of the width of the view that a slip takes up close."""

SLIP_TALL = 1.0
"""Height of what is seen of it at least, in its length and thickness together."""

NEAR_TALL = 7.0
"""Height of what is seen of where a thing is hit, in diameters of the tube."""

PINION = "pinion shaft yoke"


def views(vehicle: Vehicle) -> tuple[str, ...]:
    """Every view there is, in the order of the number keys."""
    return (WHOLE, *vehicle.joints, SLIP, ALONG, *PLAIN)


class Sight:
    """The eye, and what it goes along with.

    Attributes
    ----------
    camera, perspective : from where and how it looks.
    view : the view last chosen; "" once the user has gone elsewhere.
    on : the joint, or the slip, that the eye goes along with; None for none.
    turning : whether it also turns with the shaft there.
    through : whether the axle housing is looked through, since it lies before everything.
    arrow_at : pose (4, 4) of the arrow forward where it does not lie on the floor.
    """

    def __init__(self) -> None:
        self.camera = Camera(np.zeros(3), np.array([0.3, 1.0, 0.25]), UP, 1500.0)
        self.perspective = True
        self.view = WHOLE
        self.on: str | None = None
        self.turning = False
        self.through = False
        self.arrow_at: Floats | None = None

    def look(self, view: str, points: Floats, line: LineState, region: Region) -> None:
        """Look from one of the views of the whole at points (n, 3) mm in C."""
        self._begin(view)
        toward = line.shaft_axis_C if view == ALONG else TOWARD[view]
        if view in (SIDE, RIGHT):
            self.arrow_at = beneath(points)
            points = np.concatenate([points, self.arrow_at[:3, 3] + ARROW_SIZE])
        # Forward is to the left in plans too, as from the left.
        up = {BELOW: LEFT, ABOVE: -LEFT}.get(view, UP)
        around = AROUND if view == ALONG else 0.06
        self.camera = framing(points, toward, up, region, around, self.perspective)

    def look_at_joint(
        self,
        joint: Joint,
        frame: JointFrame,
        reach: float = 90.0,
        toward: Floats | None = None,
        spot: Floats | None = None,
    ) -> None:
        """Look at a joint, toward its tight place from where that is best seen, if there is one.

        reach : radius of its ears, mm. toward, spot : (3,) in C, toward the eye, and the place.
        """
        self._begin(joint)
        self.on = joint
        if toward is None:
            normal = frame.R_CJ[:, 2] * np.sign(frame.R_CJ[1, 2] or 1.0)
            toward = unit(normal + 0.3 * UP)
        focus = frame.centre if spot is None else 0.6 * frame.centre + 0.4 * spot
        self.camera = Camera(focus, toward, UP, CLOSE_UP * reach)

    def look_at_slip(self, ends: Floats, thick: float, region: Region) -> None:
        """Look from the side at a slip between two ends, (2, 3) mm in C, so thick (mm)."""
        self._begin(SLIP)
        self.on, self.through = SLIP, True
        along = ends[1] - ends[0]
        length = float(np.linalg.norm(along))
        toward = LEFT + 0.35 * UP
        toward = unit(toward - (toward @ along) / length**2 * along)
        shape = region.height / region.width
        span = max(shape / SLIP_WIDE * length, SLIP_TALL * (length + thick))
        self.camera = Camera(ends.mean(axis=0), toward, UP, span)

    def look_near(self, place: Floats, toward: Floats, thick: float) -> None:
        """Look at a place, (3,) mm in C, on a tube so thick (mm), from where it tells most."""
        self._begin(NEAR)
        self.camera = Camera(place, toward, UP, NEAR_TALL * thick)

    def _begin(self, view: str) -> None:
        self.view, self.on, self.arrow_at = view, None, None
        self.perspective = view not in (*PLAIN, ALONG)
        self.through = view == ALONG

    def orbit(self, right: float, up: float) -> None:
        """Go round what is looked at, rad."""
        if self.on is None:
            self.view = ""
        self.perspective = True
        self.camera = orbited(self.camera, right, up)

    def follow(self, before: Frames, after: Frames) -> bool:
        """Go along with the joint the eye is on, or stay on the axis; whether that moved it."""
        if self.view == ALONG and PINION in before and PINION in after:
            now = replace(self.camera, toward=np.array(after[SHAFT][:3, 0]))
            aside = self.camera.R_VC @ (self.camera.focus - before[PINION][:3, 3])
            self.camera = replace(now, focus=after[PINION][:3, 3] + aside @ now.R_VC)
            return True
        own = SLIP if self.on == SLIP else f"{self.on} shaft yoke"
        name = own if own in after else "front section yoke"
        if self.on is None or name not in before or name not in after:
            return False
        self.camera = carried(self.camera, before[name], after[name], self.turning)
        return True

    def nearer(self, point: Floats, by: float) -> tuple[Floats, float]:
        """A point (3,) mm in C moved toward the eye, and how much smaller is as large there."""
        toward = self.camera.R_VC[2]
        if not self.perspective:
            return point + by * toward, 1.0
        eye = self.camera.focus + toward * self.camera.away
        away = float(np.linalg.norm(eye - point))
        share = min(by / away, 0.5) if away > 0.0 else 0.0
        return np.asarray(point + share * (eye - point)), 1.0 - share


def points_of(parts: Iterable[Part], frames: Frames, is_building: bool, view: str) -> Floats:
    """Corners, (n, 3) mm in C, of the parts that a view is of, also of those to come."""
    groups = ("joints", "shaft") if view == ALONG else SHOWN
    found = list(_to_come(frames, groups)) if is_building else []
    for part in parts:
        if part.group in groups:
            X = part.mount.pose(frames)
            found += [_corners(low, high, X) for low, high in part.bounds]
    return np.concatenate(found) if found else np.array([[-300.0, 0, 0], [1000.0, 0, 300.0]])


def _to_come(frames: Frames, groups: tuple[str, ...]) -> Iterator[Floats]:
    """Corners (8, 3), mm in C, of about what will be built: joints, and case and housing."""
    for name, X in frames.items():
        if name.endswith("yoke"):
            yield _corners(-JOINT, JOINT, X)
    if "vehicle" in groups:
        for name, (low, high) in BODIES.items():
            if name in frames:
                yield _corners(np.array(low), np.array(high), frames[name])


def _corners(low: Floats, high: Floats, X: Floats) -> Floats:
    """Corners (8, 3) of a box of two corners (3,), moved by X (4, 4)."""
    box = np.stack(np.meshgrid(*np.stack([low, high], 1)), -1).reshape(-1, 3)
    return np.asarray(box @ X[:3, :3].T + X[:3, 3])


JOINT = np.array([70.0, 50.0, 50.0])
"""mm from a cross centre that the metal of a joint reaches, about."""

BODIES = {
    "output yoke": ((55.0, -106.0, -106.0), (270.0, 106.0, 106.0)),
    "pinion yoke": ((95.0, -98.0, -330.0), (343.0, 98.0, 330.0)),
}
"""Low and high corner, mm, of case and axle housing in the frame of the yoke they carry, about."""
