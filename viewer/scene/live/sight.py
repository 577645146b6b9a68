"""Which way the live view looks: the views there are, and the one that is on."""

from typing import TYPE_CHECKING

import numpy as np

from sim.frames import unit
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Camera, Floats, Region, framing
from viewer.draw.stage import VIEW_ANGLE
from viewer.scene.build_joint import joint_frame_in
from viewer.scene.live.eye import UP, carried, orbited, panned, zoomed
from viewer.scene.live.mount import Frames

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
    """

    def __init__(self) -> None:
        self.camera = Camera(np.zeros(3), np.array([0.3, 1.0, 0.25]), UP, 1500.0)
        self.perspective = True
        self.view = WHOLE
        self.on: Joint | None = None
        self.turning = False

    def look(self, view: str, scene: "LiveScene") -> None:
        """Look from one of the views."""
        self.view, self.on = view, None
        self.perspective = view != SIDE
        if view in JOINT_FRAMES:
            self._look_at_joint(view, scene)
            return
        toward = _DIRECTIONS.get(view, UP)
        if view == ALONG and scene.line is not None:
            toward = scene.line.shaft_axis_C + np.array([0.0, 0.42, 0.36])
        region = scene.stage.region
        points = _points(scene)
        if self.perspective:
            self.camera = fitted(points, unit(toward), region)
        else:
            self.camera = framing(points, toward, UP, region, MARGIN)

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
        """Go along with the joint the eye is on; whether that moved it."""
        if self.on is None:
            return False
        name = _frame_name(self.on, after)
        if name not in before or name not in after:
            return False
        self.camera = carried(self.camera, before[name], after[name], self.turning)
        return True

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
    BELOW: np.array([0.05, 0.35, -1.0]),
}

MARGIN = 0.06
"""Share of the view left free on every side."""


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


def _points(scene: "LiveScene") -> Floats:
    """Corners of every part that is not far off, (n, 3) mm in C."""
    found = []
    for part in scene.parts.values():
        if part.group not in ("joints", "shaft", "vehicle"):
            continue
        X = part.mount.pose(scene.frames)
        for _, mesh in part.pieces:
            low, high = mesh.bounds
            box = np.stack(np.meshgrid(*np.stack([low, high], 1)), -1).reshape(-1, 3)
            found.append(box @ X[:3, :3].T + X[:3, 3])
    return np.concatenate(found) if found else np.array([[-300.0, 0, 0], [1000.0, 0, 300.0]])
