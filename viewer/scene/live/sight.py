"""Which way the live view looks: the views there are, and the one that is on."""

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from sim.frames import unit
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.stage import VIEW_ANGLE
from viewer.scene.build_joint import joint_frame_in
from viewer.scene.live.eye import UP, carried, orbited, panned, zoomed
from viewer.scene.live.floor import ARROW_SIZE, beneath
from viewer.scene.mount import SHAFT, Frames

if TYPE_CHECKING:
    from viewer.scene.live.scene import LiveScene

WHOLE, SIDE, BELOW, ALONG = "whole", "side", "below", "along"

TITLES = {
    WHOLE: "Whole shaft",
    SIDE: "From the left",
    BELOW: "From below",
    ALONG: "Along the shaft",
    "output": "Output joint",
    "middle": "Middle joint",
    "pinion": "Pinion joint",
}

JOINT_FRAMES: dict[str, tuple[str, str]] = {
    "output": ("output yoke", "output shaft yoke"),
    "middle": ("middle yoke", "middle shaft yoke"),
    "pinion": ("pinion yoke", "pinion shaft yoke"),
}
"""The two yokes of a joint as frames; with a front section the output joint has its own."""

CLOSE_UP = 2.8
"""Height of what is seen of a joint, in radii of its ears."""


def views(vehicle: Vehicle) -> tuple[str, ...]:
    """Every view there is, in the order of the number keys."""
    joints = ("output", "middle", "pinion") if vehicle.section is not None else ("output", "pinion")
    return (WHOLE, *joints, SIDE, BELOW, ALONG)


class Sight:
    """The eye, and what it goes along with.

    Attributes
    ----------
    camera, perspective : from where and how it looks.
    view : the view last chosen; "" once the user has gone elsewhere.
    on : the joint the eye goes along with; None for none.
    turning : whether it also turns with the shaft there.
    through : whether the axle housing is looked through, since it lies before everything.
    arrow_at : pose (4, 4) of the arrow forward where it does not lie on the floor.
    """

    def __init__(self) -> None:
        self.camera = Camera(np.zeros(3), np.array([0.3, 1.0, 0.25]), UP, 1500.0)
        self.perspective = True
        self.view = WHOLE
        self.on: Joint | None = None
        self.turning = False
        self.through = False
        self.arrow_at: Floats | None = None

    def look(self, view: str, scene: "LiveScene") -> None:
        """Look from one of the views."""
        self.view, self.on = view, None
        self.perspective = view not in (SIDE, BELOW, ALONG)
        self.through, self.arrow_at = view == ALONG, None
        if view in JOINT_FRAMES:
            self._look_at_joint(view, scene)
            return
        region, toward, up = scene.stage.region, _DIRECTIONS[view], UP
        points = _points(scene, ("joints", "shaft") if view == ALONG else SHOWN)
        if view == SIDE:
            self.arrow_at = beneath(points)
            points = np.concatenate([points, self.arrow_at[:3, 3] + ARROW_SIZE])
        elif view == BELOW:
            up = LEFT
        elif view == ALONG and scene.line is not None:
            toward = scene.line.shaft_axis_C
        if self.perspective:
            self.camera = fitted(points, unit(toward), region)
        else:
            around = AROUND if view == ALONG else MARGIN
            self.camera = framing(points, toward, up, region, around)

    def orbit(self, right: float, up: float) -> None:
        """Go round what is looked at, rad."""
        if self.on is None:
            self.view = ""
        self.perspective = True
        self.camera = orbited(self.camera, right, up)

    def pan(self, right: float, up: float) -> None:
        """Move what is seen."""
        self.camera = panned(self.camera, right, up)

    def zoom(self, factor: float, about: Floats | None) -> None:
        """Go nearer."""
        self.camera = zoomed(self.camera, factor, about)

    def follow(self, before: Frames, after: Frames) -> bool:
        """Go along with the joint the eye is on, or stay on the axis; whether that moved it."""
        if self.view == ALONG and PINION in before and PINION in after:
            now = replace(self.camera, toward=np.array(after[SHAFT][:3, 0]))
            aside = self.camera.R_VC @ (self.camera.focus - before[PINION][:3, 3])
            self.camera = replace(now, focus=after[PINION][:3, 3] + aside @ now.R_VC)
            return True
        if self.on is None:
            return False
        name = _frame_name(self.on, after)
        if name not in before or name not in after:
            return False
        self.camera = carried(self.camera, before[name], after[name], self.turning)
        return True

    def nearer(self, point: Floats, by: float) -> tuple[Floats, float]:
        """A point (3,) mm in C moved toward the eye, and how much smaller is as large there."""
        toward = self.camera.R_VC[2]
        if not self.perspective:
            return point + by * toward, 1.0
        eye = self.camera.focus + toward * 0.5 * self.camera.span / np.tan(0.5 * VIEW_ANGLE)
        away = float(np.linalg.norm(eye - point))
        share = min(by / away, 0.5) if away > 0.0 else 0.0
        return np.asarray(point + share * (eye - point)), 1.0 - share

    def _look_at_joint(self, joint: str, scene: "LiveScene") -> None:
        names: dict[str, Joint] = {"output": "output", "middle": "middle", "pinion": "pinion"}
        self.on = names[joint]
        if scene.line is None:
            return
        frame = joint_frame_in(scene.vehicle, scene.line, self.on)
        marks = scene.marks.get(self.on)
        reach = 90.0 if marks is None else marks.reach
        toward = None if marks is None else marks.telling_side()
        if toward is None:
            normal = frame.R_CJ[:, 2] * np.sign(frame.R_CJ[1, 2] or 1.0)
            toward = unit(normal + 0.3 * UP)
        focus = np.array(frame.centre)
        spot = None if marks is None else marks.spot
        if spot is not None:
            focus = 0.6 * focus + 0.4 * spot
        self.camera = Camera(focus, toward, UP, CLOSE_UP * reach)


_DIRECTIONS = {
    WHOLE: np.array([0.28, 1.0, 0.30]),
    SIDE: np.array([0.0, 1.0, 0.0]),
    BELOW: np.array([0.0, 0.0, -1.0]),
    ALONG: np.array([-1.0, 0.0, 0.0]),
}

LEFT = np.array([0.0, 1.0, 0.0])
"""On top in the view from below, which has forward to the left as the view from the left has."""

PINION = "pinion shaft yoke"

SHOWN = ("joints", "shaft", "vehicle")
"""Groups of parts that are not far off."""

MARGIN = 0.06
"""Share of the view left free on every side."""

AROUND = 0.2
"""The same where only the shaft and its joints fill the view, for words and what is around them."""


def fitted(points: Floats, toward: Floats, region: Region) -> Camera:
    """Perspective camera, in the direction `toward` (3,), that just shows all points (n, 3)."""
    start = Camera(np.zeros(3), toward, UP, 1.0)
    seen = points @ start.R_VC.T
    low, high = seen.min(axis=0), seen.max(axis=0)
    middle = 0.5 * (low + high)
    half = np.tan(0.5 * VIEW_ANGLE) * (1.0 - 2.0 * MARGIN)
    wide = half * region.width / region.height
    aside = np.abs(seen[:, :2] - middle[:2]) / [wide, half]
    away = float((seen[:, 2] - middle[2] + aside.max(axis=1)).max())
    return Camera(middle @ start.R_VC, toward, UP, 2.0 * away * float(np.tan(0.5 * VIEW_ANGLE)))


def _frame_name(joint: Joint, frames: Frames) -> str:
    """The yoke of a joint that the eye goes along with: the shaft's own."""
    name = f"{joint} shaft yoke"
    return name if name in frames else "front section yoke"


def _points(scene: "LiveScene", groups: tuple[str, ...]) -> Floats:
    """Corners of every part of some groups, also of those to come, (n, 3) mm in C."""
    found = list(_to_come(scene.frames, groups)) if scene.is_building else []
    for part in scene.parts.values():
        if part.group not in groups:
            continue
        X = part.mount.pose(scene.frames)
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
