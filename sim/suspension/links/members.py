"""What ties the housing to the chassis: links, wishbones and arms, each as rows of a closure.

A row is one number (mm) that a rigid member would keep at zero: the stretch of a link, or the
distance of two points along an axis. Points are given at ride height, so lengths follow.
"""

from abc import ABC, abstractmethod
from dataclasses import dataclass, fields, replace
from math import dist, isfinite
from typing import Any, Final, Literal, Self

import numpy as np

from sim.frames import FloatArray, Vec3, mirrored
from sim.suspension.base import SuspensionError
from sim.suspension.bodies import Rod, Rods, Side
from sim.suspension.links.bushes import at_least, held_arm

SHORTEST: Final = 1.0
"""mm. Ends closer than that are one point."""

HeldBy = Literal["ball", "slide", "shackle"]


@dataclass(frozen=True)
class Row:
    """One condition between a point of the housing and a point of the chassis."""

    p_A: Vec3
    p_C: Vec3
    stiffness: float
    """N/mm against the row's number."""
    axis: Vec3 | None = None
    """Direction that the two points are compared along; None compares their distance."""
    axis_on: Side = "axle"
    """Whether the axis turns with the housing or stays with the chassis."""


@dataclass(frozen=True, eq=False)
class Hold:
    """Rows of one member, and how far each of its bushes gives for 1 mm of each row."""

    rows: tuple[Row, ...]
    bushes: tuple[str, ...]
    shares: FloatArray
    """(bushes, 3, rows)."""
    bend: FloatArray | None = None
    """(rows, rows, rows) 1/mm: `rows Q rows / 2` is added to the rows (`bushes.HeldArm`)."""


@dataclass(frozen=True, kw_only=True)
class Member(ABC):
    """One member; `stiffness` is that of each of its bushes, N/mm, None for the generic one."""

    name: str
    stiffness: float | None = None

    def __post_init__(self) -> None:
        if self.stiffness is not None:
            at_least(self.stiffness, f"{self.name} stiffness")
        for point in self.points:
            if len(point) != 3 or not all(map(isfinite, point)):
                raise SuspensionError(
                    f"{self.name}: got {point}, expected points of three finite numbers"
                )

    @property
    def placed(self) -> dict[str, Any]:
        """Points of the member, and pairs of them, by their names."""
        values = {each.name: getattr(self, each.name) for each in fields(self)}
        return {name: value for name, value in values.items() if isinstance(value, tuple)}

    @property
    def points(self) -> tuple[Vec3, ...]:
        """Every point of the member."""
        return tuple(p for v in self.placed.values() for p in (v if _is_pair(v) else (v,)))

    @abstractmethod
    def hold(self, generic: float) -> Hold:
        """Rows and bushes, with `generic` the stiffness (N/mm) of bushes not stated."""

    @abstractmethod
    def bodies(self) -> tuple[Rods, ...]:
        """Its rods, to show."""

    def mirrored(self, name: str) -> Self:
        """The same member on the other side of the vehicle."""
        other: dict[str, Any] = {
            key: tuple(map(mirrored, value)) if _is_pair(value) else mirrored(value)
            for key, value in self.placed.items()
        }
        return replace(self, name=name, **other)

    def _apart(self, one: Vec3, other: Vec3, what: str) -> None:
        if dist(one, other) < SHORTEST:
            raise SuspensionError(f"{self.name}: {what} are one point, expected two points apart")


@dataclass(frozen=True, kw_only=True)
class Link(Member):
    """A rod with a ball or bush at either end; a track bar is one."""

    chassis: Vec3
    axle: Vec3

    def __post_init__(self) -> None:
        super().__post_init__()
        self._apart(self.chassis, self.axle, "its ends")

    def hold(self, generic: float) -> Hold:
        """One row: its length. Its two bushes share the stretch."""
        return _legs((self.name,), [(self.axle, self.chassis)], self.stiffness or generic)

    def bodies(self) -> tuple[Rods, ...]:
        """One rod."""
        return (_shown(self.name, "link", self.chassis, self.axle),)


@dataclass(frozen=True, kw_only=True)
class Wishbone(Member):
    """A triangle with a ball at its apex and two bushes to turn in.

    Held by two bushes the apex runs on a circle; its distances to the two bushes keep it there,
    so the wishbone does the same as two links from the apex [derivation].
    """

    apex: Vec3
    bushes: tuple[Vec3, Vec3]
    apex_on: Side = "axle"

    def __post_init__(self) -> None:
        super().__post_init__()
        self._apart(*self.bushes, "its bushings")
        for bush in self.bushes:
            self._apart(self.apex, bush, "its apex and a bushing")
        one, other = (np.subtract(bush, self.apex) for bush in self.bushes)
        if np.linalg.norm(np.cross(one, other)) < SHORTEST * dist(*self.bushes):
            raise SuspensionError(
                f"{self.name}: its apex lies in line with its bushings, expected a triangle"
            )

    def hold(self, generic: float) -> Hold:
        """Two rows, one for each leg."""
        on_axle = self.apex_on == "axle"
        legs = [(self.apex, b) if on_axle else (b, self.apex) for b in self.bushes]
        names = f"{self.name}, first leg", f"{self.name}, second leg"
        return _legs(names, legs, self.stiffness or generic)

    def bodies(self) -> tuple[Rods, ...]:
        """A leg from each bush to the apex."""
        side = self.apex_on
        other: Side = "chassis" if side == "axle" else "axle"
        legs = tuple(Rod(bush, other, self.apex, side) for bush in self.bushes)
        return (Rods(self.name, "wishbone", legs),)


@dataclass(frozen=True, kw_only=True)
class Arm(Member):
    """A radius arm: two bushes hold it to the housing, a third to the chassis.

    With its bushes rigid it would turn with the housing, so two of them bind when the axle rolls:
    what gives are the bushes.
    """

    chassis: Vec3
    axle: tuple[Vec3, Vec3]

    def __post_init__(self) -> None:
        super().__post_init__()
        self._apart(*self.axle, "its two points on the axle")
        for point in self.axle:
            self._apart(self.chassis, point, "its ends")
        _, (a_x, _, a_z), (b_x, _, b_z) = self.points
        if dist((a_x, a_z), (b_x, b_z)) < SHORTEST:
            raise SuspensionError(
                f"{self.name}: its two points on the axle lie side by side, expected them apart "
                "fore-aft or in height"
            )

    def hold(self, generic: float) -> Hold:
        """Three rows: give of the pivot along the principal axes of the arm in its bushes."""
        arm = held_arm(self.chassis, self.axle, self.stiffness or generic)
        rows = tuple(
            Row(self.chassis, self.chassis, float(k), _vec3(axis))
            for k, axis in zip(arm.stiffness, arm.axes, strict=True)
        )
        names = ("pivot", "first axle bushing", "second axle bushing")
        bushes = tuple(f"{self.name}, {name}" for name in names)
        return Hold(rows, bushes, arm.shares, arm.bend)

    def bodies(self) -> tuple[Rods, ...]:
        """A rod from the pivot to each of its bushes on the axle."""
        rods = tuple(Rod(self.chassis, "chassis", point, "axle") for point in self.axle)
        return (Rods(self.name, "radius arm", rods),)


@dataclass(frozen=True, kw_only=True)
class TorqueArm(Member):
    """An arm bolted rigidly to the housing, its far end held to the chassis.

    By a slide that only keeps its height, by a shackle that hangs from (or stands on) the point
    `shackle` of the chassis, or by a ball.
    """

    end: Vec3
    held_by: HeldBy = "slide"
    shackle: Vec3 | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        if (self.held_by == "shackle") != (self.shackle is not None):
            raise SuspensionError(
                f"{self.name}: got held_by {self.held_by!r} and shackle {self.shackle}, expected "
                'the chassis end of the shackle with "shackle", and only there'
            )
        if self.shackle is not None:
            self._apart(self.end, self.shackle, "the ends of its shackle")

    def hold(self, generic: float) -> Hold:
        """One row for a slide or a shackle, three for a ball."""
        stiffness = self.stiffness or generic
        if self.shackle is not None:
            return _legs((self.name,), [(self.end, self.shackle)], stiffness)
        axes = _AXES[2:] if self.held_by == "slide" else _AXES
        side: Side = "chassis" if self.held_by == "slide" else "axle"
        rows = tuple(Row(self.end, self.end, stiffness, axis, side) for axis in axes)
        return Hold(rows, (self.name,), np.array(axes).T[None])

    def bodies(self) -> tuple[Rods, ...]:
        """The arm from the axle's centre, and the shackle if it has one."""
        arm = Rod((0.0, 0.0, 0.0), "axle", self.end, "axle")
        bodies = (Rods(self.name, "torque arm", (arm,)),)
        if self.shackle is None:
            return bodies
        return *bodies, _shown(self.name, "shackle", self.shackle, self.end)


def _shown(name: str, what: Literal["link", "shackle"], chassis: Vec3, axle: Vec3) -> Rods:
    """A single rod from the chassis to the axle."""
    return Rods(name, what, (Rod(chassis, "chassis", axle, "axle"),))


_AXES: Final[tuple[Vec3, ...]] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def _legs(names: tuple[str, ...], legs: list[tuple[Vec3, Vec3]], stiffness: float) -> Hold:
    """Legs from a point of the housing to one of the chassis, with a bush at either end."""
    rows = tuple(Row(p_A, p_C, 0.5 * stiffness) for p_A, p_C in legs)
    shares = np.zeros((len(legs), 3, len(legs)))
    shares[range(len(legs)), 0, range(len(legs))] = 0.5
    return Hold(rows, names, shares)


def _is_pair(placed: Any) -> bool:
    return isinstance(placed[0], tuple)


def _vec3(values: FloatArray) -> Vec3:
    x, y, z = values.tolist()
    return x, y, z
