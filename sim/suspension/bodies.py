"""What holds the axle, as bodies to show: rods and leaf springs, by points at ride height.

Plain numbers for whoever draws; how thick a body looks is up to them, and nothing is judged by it.
"""

from dataclasses import dataclass
from typing import Literal

from sim.frames import Vec3

Side = Literal["axle", "chassis"]
"""What a point moves with."""


@dataclass(frozen=True)
class Rod:
    """A straight rod between two points of C (mm), and what each of them moves with."""

    start: Vec3
    start_on: Side
    stop: Vec3
    stop_on: Side


@dataclass(frozen=True)
class Rods:
    """The rods of one member."""

    name: str
    what: Literal["link", "wishbone", "radius arm", "torque arm", "shackle"]
    rods: tuple[Rod, ...]


@dataclass(frozen=True)
class Spring:
    """A leaf spring from eye to eye over its seat, which moves with the axle."""

    side: Literal["left", "right"]
    fixed_eye: Vec3
    seat: Vec3
    shackled_eye: Vec3


Body = Rods | Spring
