"""What a suspension is: axle heights, roll and wrap in, poses of the axle housing out."""

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from geometry.errors import BindpointError
from sim.frames import FloatArray, Vec3, components_last, locked, pose
from sim.suspension.bodies import Body


class SuspensionError(BindpointError, ValueError):
    """A suspension that cannot be built from the numbers given."""


@dataclass(frozen=True, eq=False)
class AxlePoses:
    """Poses of the axle housing frame A in the chassis frame C, batch first."""

    R_CA: FloatArray
    """(..., 3, 3) rotation of A in C."""
    p_C_A: FloatArray
    """(..., 3) housing centre in C, mm."""

    @property
    def X_CA(self) -> FloatArray:
        """(..., 4, 4) the same as homogeneous poses."""
        return pose(self.R_CA, self.p_C_A)

    def point(self, p_A: ArrayLike) -> FloatArray:
        """Where a point (3,) fixed to the housing lies in C, (..., 3) mm."""
        return self.direction(p_A) + self.p_C_A

    def direction(self, v_A: ArrayLike) -> FloatArray:
        """Where a direction (3,) fixed to the housing points in C, (..., 3)."""
        turned: FloatArray = self.R_CA @ np.asarray(v_A, dtype=np.float64)
        return turned


@dataclass(frozen=True, kw_only=True)
class Suspension(ABC):
    """Moves the axle housing; the identity at ride height, level and unwrapped.

    The abstract members are all that a new kind has to say of its motion.
    """

    front: bool = False
    """Front axle: its pinion faces rearward, so nose up turns the housing the other way."""

    wrap_centre: Vec3 = (0.0, 0.0, 0.0)
    """Point of the housing, in A (mm), about which axle wrap turns it; its own axis by default."""

    @abstractmethod
    def poses(self, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike) -> AxlePoses:
        """Pose of the housing for travel (mm, up positive), roll and wrap (rad), broadcast.

        Roll positive lifts the left wheel; wrap positive is nose up. A pose out of the reach of
        the suspension is nan.
        """

    @abstractmethod
    def bodies(self) -> tuple[Body, ...]:
        """What holds the axle, to show; nothing where only its motion is known."""

    @property
    def bushes_give(self) -> Callable[[ArrayLike, ArrayLike], FloatArray] | None:
        """The most that a bush gives (mm) at travel (mm) and roll (rad), broadcast.

        None for a suspension in which no bush has to give.
        """
        return None

    def carry(
        self,
        travel: ArrayLike,
        roll: ArrayLike,
        wrap: ArrayLike,
        p_A: ArrayLike,
        v_A: ArrayLike,
    ) -> tuple[FloatArray, FloatArray]:
        """Carry a point and a direction (3,) of the housing along: (..., 3) each, in C.

        The same as asking `poses` for `point` and `direction`; kinds override it where rotating
        two vectors is cheaper than building rotations.
        """
        poses = self.poses(travel, roll, wrap)
        return poses.point(p_A), poses.direction(v_A)

    def range(self) -> tuple[float, float] | None:
        """Lowest and highest travel (mm) that the description was measured over.

        None when the description holds at every height. Outside of the range the poses are an
        extrapolation, and whoever reports them has to say so.
        """
        return None

    def knots(self) -> tuple[float, ...]:
        """Travels (mm) at which the motion changes the law it follows; searches ask there too."""
        return ()

    @property
    def nose_up_sense(self) -> float:
        """Sign of the right-hand turn about y that lifts the nose: -1 rear, +1 front."""
        return 1.0 if self.front else -1.0


@dataclass(frozen=True, eq=False)
class Motion:
    """Motion of the housing before wrap: a shift, then yaw, roll, pitch.

    The rotation is Rz(yaw) @ Rx(roll) @ Ry(pitch), all right-handed (rad); the shift is in C
    (mm). Every member broadcasts; a yaw of None is no yaw at all, which saves its arithmetic.
    """

    x: FloatArray
    y: FloatArray
    z: FloatArray
    roll: FloatArray
    pitch: FloatArray
    yaw: FloatArray | None = None


class _Turn:
    """Rz(yaw) @ Rx(roll) @ Ry(pitch), applied to vectors without building a matrix."""

    def __init__(self, motion: Motion, pitch: FloatArray) -> None:
        self.pitch = np.sin(pitch), np.cos(pitch)
        self.roll = np.sin(motion.roll), np.cos(motion.roll)
        self.yaw = None if motion.yaw is None else (np.sin(motion.yaw), np.cos(motion.yaw))

    def __call__(self, v: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
        s, c = self.pitch
        x, z = c * v[0] + s * v[2], c * v[2] - s * v[0]
        s, c = self.roll
        y, z = c * v[1] - s * z, c * z + s * v[1]
        if self.yaw is not None:
            s, c = self.yaw
            x, y = c * x - s * y, c * y + s * x
        return x, y, z


@dataclass(frozen=True, kw_only=True)
class EulerSuspension(Suspension):
    """A suspension whose housing motion is stated as a shift and three angles.

    Subclasses state `motion`; wrap then turns the housing further, about its own y axis through
    `wrap_centre`: ``R_CA = Rz(yaw) @ Rx(roll) @ Ry(pitch -+ wrap)``.
    """

    @abstractmethod
    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Motion of the housing without wrap; exactly nothing at (0, 0)."""

    def poses(self, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike) -> AxlePoses:
        """Pose of the housing; see `Suspension.poses`."""
        motion, turn, shape = self._moved(travel, roll, wrap)
        R = np.empty((3, 3, *shape))
        for column, axis in enumerate(np.eye(3)):
            for row, component in enumerate(turn(axis)):
                R[row, column] = component
        p = np.empty((3, *shape))
        for row, shift in enumerate(self._shift(motion, turn)):
            p[row] = shift
        return AxlePoses(locked(np.moveaxis(R, (0, 1), (-2, -1))), locked(components_last(p)))

    def carry(
        self,
        travel: ArrayLike,
        roll: ArrayLike,
        wrap: ArrayLike,
        p_A: ArrayLike,
        v_A: ArrayLike,
    ) -> tuple[FloatArray, FloatArray]:
        """Carry a point and a direction along; see `Suspension.carry`."""
        motion, turn, shape = self._moved(travel, roll, wrap)
        p, v = np.empty((3, *shape)), np.empty((3, *shape))
        point = turn(np.asarray(p_A, dtype=np.float64))
        for row, (component, shift) in enumerate(
            zip(point, self._shift(motion, turn), strict=True)
        ):
            np.add(component, shift, out=p[row, ...])
        for row, component in enumerate(turn(np.asarray(v_A, dtype=np.float64))):
            v[row] = component
        return components_last(p), components_last(v)

    def _moved(
        self, travel: ArrayLike, roll: ArrayLike, wrap: ArrayLike
    ) -> tuple[Motion, _Turn, tuple[int, ...]]:
        t, r, w = (np.asarray(value, dtype=np.float64) for value in (travel, roll, wrap))
        motion = self.motion(t, r)
        turn = _Turn(motion, motion.pitch + self.nose_up_sense * w)
        return motion, turn, np.broadcast_shapes(t.shape, r.shape, w.shape)

    def _shift(self, motion: Motion, turn: _Turn) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Housing centre in C: the point `wrap_centre` does not move with wrap."""
        if not any(self.wrap_centre):
            return motion.x, motion.y, motion.z
        centre = np.array(self.wrap_centre, dtype=np.float64)
        before = _Turn(motion, motion.pitch)(centre)
        after = turn(centre)
        shifts = (motion.x, motion.y, motion.z)
        x, y, z = (s + (b - a) for s, b, a in zip(shifts, before, after, strict=True))
        return x, y, z
