"""The version put aside, as a thin shape in the same pose."""

from collections.abc import Iterator

import numpy as np

from sim.check import Check
from sim.vehicle import Pose
from viewer.draw.shading import sharp_edges
from viewer.draw.stage import Stage
from viewer.scene.live.looks import GHOST, GHOST_EDGE
from viewer.scene.live.mount import frames_of
from viewer.scene.live.part import LivePart
from viewer.scene.live.shaft_parts import shaft_parts
from viewer.session.pose_now import pose_now


class Ghost:
    """Another version's shaft on the same stage; nothing of it can be hidden or moved by itself."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._check: Check | None = None
        self._parts: list[LivePart] = []
        self._building: Iterator[LivePart] | None = None

    @property
    def has_work(self) -> bool:
        """Whether parts are still to be built."""
        return self._building is not None

    def show(self, check: Check | None) -> None:
        """Show another version, or none."""
        if check is self._check:
            return
        for part in self._parts:
            self._stage.remove(_name(part))
        self._parts, self._check = [], check
        self._building = None if check is None else shaft_parts(check)

    def work(self, at: Pose, spin: float) -> None:
        """Build one part; the last of them goes with the rest to a pose (mm, rad)."""
        if self._building is None:
            return
        part = next(self._building, None)
        if part is None:
            self._building = None
            self.pose(at, spin)
            return
        self._parts.append(part)
        still = np.eye(4)
        for _, mesh in part.pieces:
            self._stage.solid(_name(part), mesh, GHOST, still)
            self._stage.lines(_name(part), sharp_edges(mesh), GHOST_EDGE, still)
        self._stage.show(_name(part), False)

    def pose(self, at: Pose, spin: float) -> None:
        """Go to a pose; out of its reach it is not seen."""
        if self._check is None or self._building is not None:
            return
        now = pose_now(self._check, at, spin)
        for part in self._parts:
            self._stage.show(_name(part), now.state is not None)
        if now.state is None:
            return
        vehicle = self._check.derivation.vehicle
        frames = frames_of(vehicle, now.state, now.joints["output"].spin)
        for part in self._parts:
            self._stage.move(_name(part), part.mount.pose(frames))


def _name(part: LivePart) -> str:
    return f"before: {part.name}"
