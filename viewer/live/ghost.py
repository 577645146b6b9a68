"""The version put aside, as a thin shape in the same pose."""

from collections.abc import Iterator, Mapping

import numpy as np

from sim.check import Check
from sim.pose import pose_of
from sim.vehicle import Pose
from viewer.draw.camera import Floats
from viewer.draw.stage import Stage
from viewer.live.looks import GHOST, GHOST_EDGE, SIZE, Look
from viewer.live.sight import Sight
from viewer.scene.figure import put_up
from viewer.scene.kept_parts import shaft_of
from viewer.scene.mount import Frames, frames_of
from viewer.scene.part import Part, same_pieces

SAME = 1e-6
"""mm, and as much of a turn: poses closer than that are one."""

CAPTION, SAYS = "before caption", "blue: the version put aside"
"""What the stage calls the words on what is seen of the other version, and the words."""


class Ghost:
    """Another version's shaft on the same stage; nothing of it can be hidden or moved by itself."""

    def __init__(self, stage: Stage, look: Look) -> None:
        self._stage, self._look = stage, look
        self._captioned = False
        self._shown: list[tuple[Part, Floats]] = []
        self._check: Check | None = None
        self._parts: list[Part] = []
        self._building: Iterator[Part] | None = None
        self._known: dict[str, tuple[Part, bool]] = {}

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
        self._stage.remove(CAPTION)
        self._captioned, self._shown = False, []
        self._parts, self._check, self._known = [], check, {}
        self._building = None if check is None else shaft_of(check)

    def work(self) -> None:
        """Build one part."""
        if self._building is None:
            return
        part = next(self._building, None)
        if part is None:
            self._building = None
            return
        self._parts.append(part)
        meshes = [(mesh, GHOST) for mesh, _ in part.meshes]
        put_up(self._stage, _name(part), meshes, np.eye(4), GHOST_EDGE)
        self._stage.show(_name(part), False)

    def pose(
        self,
        at: Pose,
        spin: float,
        parts: Mapping[str, Part],
        frames: Frames,
        sight: Sight,
    ) -> None:
        """Go to a pose; what is just as in the version in front is not drawn twice.

        parts, frames : of the version in front, as it stands in that pose.
        """
        if self._check is None or self._building is not None:
            return
        now = pose_of(self._check, at, spin)
        own: Frames = {}
        if now.reached:
            own = frames_of(self._check.derivation.vehicle, now.state)
        self._shown = []
        for part in self._parts:
            X = part.mount.pose(own) if own else np.eye(4)
            front = parts.get(part.name)
            alike = front is not None and self._alike(part, front)
            if alike and front is not None:
                alike = np.allclose(X, front.mount.pose(frames), rtol=0.0, atol=SAME)
            seen = bool(own) and not alike
            self._stage.move(_name(part), X)
            self._stage.show(_name(part), seen)
            if seen:
                self._shown.append((part, X))
        self.face(sight)

    def dress(self, look: Look) -> None:
        """Take on another look."""
        self._look = look
        self._stage.remove(CAPTION)
        self._captioned = False

    def face(self, sight: Sight) -> None:
        """Say what it is on its largest part, close up on the one that is nearest."""
        if not self._shown:
            self._stage.show(CAPTION, False)
            return
        if not self._captioned:
            self._captioned = True
            letters, plate = self._look.letters(SIZE, True), self._look.edged(GHOST_EDGE.colour)
            self._stage.words(CAPTION, SAYS, np.zeros(3), letters, plate)
        part, X = max(self._shown, key=lambda each: _size(each[0]))
        middle = _middle(part, X)
        if sight.on is not None:
            focus, middles = sight.camera.focus, [_middle(*each) for each in self._shown]
            middle = min(middles, key=lambda each: float(np.linalg.norm(each - focus)))
        at = np.eye(4)
        at[:3, 3] = middle
        self._stage.move(CAPTION, at)
        self._stage.show(CAPTION, True)

    def _alike(self, part: Part, front: Part) -> bool:
        known = self._known.get(part.name)
        if known is None or known[0] is not front:
            known = front, same_pieces(part, front)
            self._known[part.name] = known
        return known[1]


def _middle(part: Part, X: Floats) -> Floats:
    """Middle (3,) mm in C of a part with the pose X."""
    return np.asarray(X[:3, :3] @ part.middle + X[:3, 3])


def _size(part: Part) -> float:
    """Length (mm) of the diagonal of a part's longest piece."""
    return float(np.linalg.norm(np.ptp(part.bounds, axis=1), axis=1).max())


def _name(part: Part) -> str:
    return f"before: {part.name}"
