"""Which way the live view looks: the views there are, and the one that is on."""

from typing import TYPE_CHECKING

import numpy as np

from sim.frames import unit
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import Camera, Floats, Region, framing
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
        self.view = ""
        self.on: Joint | None = None
        self.turning = False

    def look(self, view: str, scene: "LiveScene") -> None:
        """Look from one of the views."""
        self.view, self.on = view, None
        self.perspective = view != SIDE
        if view in JOINT_FRAMES:
            self._look_at_joint(view, scene)
            return
        toward, up = _DIRECTIONS.get(view, (UP, UP))
        if view == ALONG and scene.line is not None:
            away = scene.line.shaft_axis_C
            toward = unit(away + np.array([0.0, 0.16, 0.12]))
        width, height = scene.stage.size
        region = Region(0.0, 0.0, float(width), float(height))
        margin = 0.08 if view != ALONG else 0.12
        self.camera = framing(_points(scene), toward, up, region, margin)

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
    WHOLE: (np.array([0.28, 1.0, 0.30]), UP),
    SIDE: (np.array([0.0, 1.0, 0.0]), UP),
    BELOW: (np.array([0.05, 0.35, -1.0]), UP),
}


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
