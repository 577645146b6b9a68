"""What a part of the live view hangs on: from the frames of a pose to the part's own pose."""

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from sim.frames import pose, unit
from sim.line import TurnState
from sim.vehicle import Vehicle
from viewer.draw.camera import Floats

Frames = Mapping[str, Floats]
"""Pose (4, 4) in C of every frame of the vehicle by name."""

CHASSIS, HOUSING, SHAFT, SLID = "chassis", "housing", "shaft", "slid"
"""Frames that are no yoke or cross: `slid` is that of the shaft, moved along it with the slip."""


def frames_of(
    vehicle: Vehicle, state: TurnState, built: TurnState | None = None
) -> dict[str, Floats]:
    """Every frame in one turned pose, for parts that were built in a state (None: at ride)."""
    frames = dict(state.X_C)
    slid = np.array(frames[SHAFT])
    if vehicle.slip.at == "shaft":
        opened = state.line.slip - (0.0 if built is None else built.line.slip)
        slid[:3, 3] += float(opened) * slid[:3, 0]
    return frames | {CHASSIS: np.eye(4), SLID: slid}


class Mount(ABC):
    """Where a part is, given the frames of a pose."""

    bends = False
    """Whether it may stretch or shear the part."""

    @abstractmethod
    def pose(self, frames: Frames) -> Floats:
        """Pose (4, 4) in C; it may stretch the part. Raises KeyError where a frame is missing."""


@dataclass(frozen=True, eq=False)
class On(Mount):
    """Fixed to a frame, at X_FP in it."""

    frame: str
    X_FP: Floats = field(default_factory=lambda: np.eye(4))

    def pose(self, frames: Frames) -> Floats:
        """Go with the frame."""
        return np.asarray(frames[self.frame] @ self.X_FP)


@dataclass(frozen=True, eq=False)
class TurnsAt(Mount):
    """Turns with a frame and stays where it is, at p_C (3,) mm."""

    frame: str
    p_C: Floats

    def pose(self, frames: Frames) -> Floats:
        """Take on the frame's turn alone."""
        return pose(frames[self.frame][:3, :3], self.p_C)


@dataclass(frozen=True, eq=False)
class Bellows(Mount):
    """Along the shaft from `start` on the shaft to `end` on its slid half, x in mm at ride."""

    start: float
    end: float

    def pose(self, frames: Frames) -> Floats:
        """Stretch as far as the slip has opened."""
        X, slid = frames[SHAFT], frames[SLID]
        opened = float((slid[:3, 3] - X[:3, 3]) @ X[:3, 0])
        share = max(0.05, 1.0 + opened / (self.end - self.start))
        stretch = np.diag([share, 1.0, 1.0, 1.0])
        stretch[0, 3] = self.start * (1.0 - share)
        return np.asarray(X @ stretch)


@dataclass(frozen=True, eq=False)
class Between(Mount):
    """From a point of one frame to a point of another, each (3,) mm; x runs along."""

    start_on: str
    start: Floats
    end_on: str
    end: Floats

    def pose(self, frames: Frames) -> Floats:
        """Lay x from point to point, z as far up as it goes."""
        a = _point(frames[self.start_on], self.start)
        return toward(a, _point(frames[self.end_on], self.end))


@dataclass(frozen=True, eq=False)
class Bent(Mount):
    """A length of a spring from its seat on the housing to its eye on the chassis, (3,) mm at ride.

    Drawn from its seat at the origin. Between the shares `start` and `end` of the way it follows
    the line of a bar clamped at the seat and pulled at the eye, by a shear, which keeps it as thick
    as it is. That line: any textbook on beams. `swings` : whether a shackle lets the eye move fore
    and aft, so that the way keeps its length; the height of the eye is taken to stay.
    """

    bends = True

    seat: Floats
    eye: Floats
    start: float = 0.0
    end: float = 1.0
    swings: bool = False

    def ends(self, frames: Frames) -> tuple[Floats, Floats]:
        """Where seat and eye are, (3,) mm in C."""
        seat, eye = _point(frames[HOUSING], self.seat), _point(frames[CHASSIS], self.eye)
        if self.swings:
            still = self.eye - self.seat
            half = float(np.hypot(still[0], still[2]))
            drop = np.clip(eye[2] - seat[2], -half, half)
            eye[0] = seat[0] + np.copysign(np.sqrt(half**2 - drop**2), still[0])
        return seat, eye

    def pose(self, frames: Frames) -> Floats:
        """Lead from where the seat is to where the eye is."""
        seat, eye = self.ends(frames)
        still, here = self.eye - self.seat, eye - seat
        first, last = (0.5 * (3.0 - share) * share**2 for share in (self.start, self.end))
        slope = (last - first) / (self.end - self.start) * (here - still) / still[0]
        X = np.eye(4)
        X[:3, 0] += slope
        X[:3, 3] = seat + first * (here - still) - self.start * still[0] * slope
        return X


class AtEye(Bent):
    """What is drawn around a spring's eye at the origin, and is not bent."""

    def pose(self, frames: Frames) -> Floats:
        """Go with the eye."""
        return pose(np.eye(3), self.ends(frames)[1])


def _point(X: Floats, p: Floats) -> Floats:
    return np.asarray(X[:3, :3] @ p + X[:3, 3])


def toward(start: Floats, stop: Floats) -> Floats:
    """Pose (4, 4) at `start` with x toward `stop`, (3,) mm, and z as far up as it goes."""
    x = unit(stop - start)
    y = unit(np.cross([0.0, 0.0, 1.0] if abs(x[2]) < 0.9 else [0.0, 1.0, 0.0], x))
    return pose(np.stack([x, y, np.cross(x, y)], axis=-1), start)
