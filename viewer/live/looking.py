"""Where the eye goes for each of the views, so that what it is of is seen whole."""

from collections.abc import Iterator
from typing import Protocol

import numpy as np

from sim.frames import unit
from sim.line import LineState
from sim.vehicle import Joint, Vehicle
from viewer.draw.camera import LEFT, UP, Camera, Floats, Region, framing
from viewer.draw.stage import VIEW_ANGLE, Stage
from viewer.live.floor import ARROW_SIZE, beneath
from viewer.live.marks import JointMarks
from viewer.live.sight import ALONG, BELOW, JOINT_FRAMES, SIDE, WHOLE, Sight
from viewer.scene.joint_bodies import joint_frame
from viewer.scene.mount import Frames
from viewer.scene.part import Part


class Seen(Protocol):
    """What there is to look at: a stage with parts, and where they are."""

    stage: Stage
    line: LineState | None
    marks: dict[Joint, JointMarks]
    parts: dict[str, Part]
    frames: Frames

    @property
    def vehicle(self) -> Vehicle:
        """The vehicle that is shown."""

    @property
    def is_building(self) -> bool:
        """Whether parts are still to come."""


CLOSE_UP = 2.8
"""Height of what is seen of a joint, in radii of its ears."""


def look_from(sight: Sight, view: str, scene: Seen) -> None:
    """Look at a scene from one of the views."""
    sight.view, sight.on = view, None
    sight.perspective = view not in (SIDE, BELOW, ALONG)
    sight.through, sight.arrow_at = view == ALONG, None
    if view in JOINT_FRAMES:
        _look_at_joint(sight, view, scene)
        return
    region, toward, up = scene.stage.region, _DIRECTIONS[view], UP
    points = _points(scene, ("joints", "shaft") if view == ALONG else SHOWN)
    if view == SIDE:
        sight.arrow_at = beneath(points)
        points = np.concatenate([points, sight.arrow_at[:3, 3] + ARROW_SIZE])
    elif view == BELOW:
        up = LEFT  # so that forward is to the left, as in the view from the left
    elif view == ALONG and scene.line is not None:
        toward = scene.line.shaft_axis_C
    if sight.perspective:
        sight.camera = fitted(points, unit(toward), region)
    else:
        around = AROUND if view == ALONG else MARGIN
        sight.camera = framing(points, toward, up, region, around)


def _look_at_joint(sight: Sight, joint: str, scene: Seen) -> None:
    names: dict[str, Joint] = {"output": "output", "middle": "middle", "pinion": "pinion"}
    sight.on = names[joint]
    if scene.line is None:
        return
    frame = joint_frame(scene.vehicle, scene.line, sight.on)
    marks = scene.marks.get(sight.on)
    reach = 90.0 if marks is None else marks.reach
    toward = None if marks is None else marks.telling_side()
    if toward is None:
        normal = frame.R_CJ[:, 2] * np.sign(frame.R_CJ[1, 2] or 1.0)
        toward = unit(normal + 0.3 * UP)
    focus = np.array(frame.centre)
    spot = None if marks is None else marks.spot
    if spot is not None:
        focus = 0.6 * focus + 0.4 * spot
    sight.camera = Camera(focus, toward, UP, CLOSE_UP * reach)


_DIRECTIONS = {
    WHOLE: np.array([0.28, 1.0, 0.30]),
    SIDE: LEFT,
    BELOW: -UP,
    ALONG: np.array([-1.0, 0.0, 0.0]),
}

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


def _points(scene: Seen, groups: tuple[str, ...]) -> Floats:
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
