"""Which way the live view looks: the views there are, and the one that is on."""

from dataclasses import replace

import numpy as np

from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import UP, Camera, Floats
from viewer.draw.stage import VIEW_ANGLE
from viewer.live.eye import carried, orbited, panned, zoomed
from viewer.scene.mount import SHAFT, Frames

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


def views(vehicle: Vehicle) -> tuple[str, ...]:
    """Every view there is, in the order of the number keys."""
    return (WHOLE, *vehicle.joints, SIDE, BELOW, ALONG)


PINION = "pinion shaft yoke"


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


def _frame_name(joint: Joint, frames: Frames) -> str:
    """The yoke of a joint that the eye goes along with: the shaft's own."""
    name = f"{joint} shaft yoke"
    return name if name in frames else "front section yoke"
