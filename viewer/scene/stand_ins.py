"""Simple bodies for what the program knows little of: axle housing, output case, tube and slip.

They only show where things are. Their own sizes are generic, from memory, and touch nothing.
"""

from contextlib import suppress
from dataclasses import dataclass
from math import pi

import numpy as np

from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.tube import TubeShape
from sim.catalogue import slip_shape
from viewer.draw.camera import Floats
from viewer.scene.parts import PosedPart

AXLE_TUBE = 76.0
"""Diameter of the axle tubes, mm."""

AXLE_HALF = 330.0
"""How much of an axle tube is shown on either side, mm."""

BEAD = 7.0
"""Width of a weld bead, mm."""

LEAST_TUBE = 40.0
"""Shorter than this, mm, a piece of tube is left out."""


def axle_housing(snout: float) -> Mesh:
    """A housing in a frame with x along the pinion, toward its joint, and y along the axle tubes.

    snout : mm from the middle of the housing to where its front end is.
    """
    bowl = float(np.clip(0.52 * snout, 80.0, 150.0))
    angle = np.linspace(0.0, pi, 25)
    ball = np.column_stack([-np.cos(angle), np.sin(angle)]) * [0.62 * bowl, bowl]
    ball[[0, -1], 1] = 0.0
    neck = 0.42 * bowl
    nose = [[0.0, 0.0], [snout, 0.0], [snout, neck], [0.75 * snout, neck], [0.0, 0.8 * bowl]]
    return Solid.union(
        [
            turned(ball[::-1] * [1.0, 1.0], "y", "housing"),
            turned(np.array(nose), "x", "housing"),
            cylinder("y", 0.5 * AXLE_TUBE, -AXLE_HALF, AXLE_HALF, "housing"),
        ]
    ).mesh()


def output_case(start: float) -> Mesh:
    """A case behind an output yoke, in the frame of the yoke, from x = `start`, mm."""
    profile = [
        [start, 0.0],
        [start + 190.0, 0.0],
        [start + 190.0, 95.0],
        [start + 70.0, 95.0],
        [start + 45.0, 52.0],
        [start, 46.0],
    ]
    return turned(np.array(profile), "x", "case").mesh()


def bearing_ring(at: float) -> Mesh:
    """A carrier bearing around the x axis, its middle at x = `at`, mm."""
    outside, inside, width = BEARING
    start, end = at - 0.5 * width, at + 0.5 * width
    ring = cylinder("x", 0.5 * outside, start, end, "bearing")
    return ring.cut(cylinder("x", 0.5 * inside, start - 1.0, end + 1.0, "bore", hole=True)).mesh()


BEARING = (150.0, 40.0, 36.0)
"""Outside, inside and width of a carrier bearing, mm; from memory, only to show."""


def plain_tube(outside: float, wall: float, start: float, end: float) -> list[tuple[str, Mesh]]:
    """A tube along x from `start` to `end`, mm, as materials and meshes; nothing if too short."""
    if end - start < LEAST_TUBE:
        return []
    tube = TubeShape(outside=outside, wall=wall, cut_length=end - start, weld_bead=BEAD).build()
    shift = np.array([start, 0.0, 0.0])
    looks = {"tube": "light steel", "weld beads": "grey steel"}
    return [(looks[name], mesh.moved(np.eye(3), shift)) for name, mesh in tube.parts.items()]


@dataclass(frozen=True)
class Sliding:
    """A slip in the shaft as it is in one pose.

    cross : size of the cross whose slip it is. closes, apart : mm left at ride height until it
    bottoms and until it comes apart. opened : mm since ride height.
    """

    cross: str
    closes: float
    apart: float
    opened: float


def shaft_between(
    name: str,
    X_C: Floats,
    lands: tuple[float, float],
    tube: tuple[float, float],
    slip: Sliding | None,
) -> tuple[PosedPart, ...]:
    """Tube, and slip where there is one, between the weld lands of a shaft's two yokes.

    X_C : (4, 4) pose of the shaft: x from the output joint toward the pinion joint.
    lands : x of the two weld lands, mm. tube : outside and wall, mm.
    """
    start, end = lands
    pieces: list[tuple[str, Mesh]] = []
    if slip is not None:
        halves = slip_halves(tube, start + LEAST_TUBE, slip)
        if halves is not None and halves.after < end - LEAST_TUBE:
            pieces += [*plain_tube(*tube, start, start + LEAST_TUBE), *halves.pieces]
            start = halves.after
    pieces += plain_tube(*tube, start, end)
    return tuple(PosedPart(name, material, mesh, X_C) for material, mesh in pieces)


@dataclass(frozen=True, eq=False)
class SlipHalves:
    """A slip as it stands in one pose, in the frame of the shaft.

    sleeve, stub : the two halves. boot : the boot over them and the x, mm, between which it
    stretches; None where the stub is pulled out. after : x where the tube goes on, mm.
    """

    sleeve: Mesh
    stub: Mesh
    boot: tuple[Mesh, float, float] | None
    after: float

    @property
    def pieces(self) -> list[tuple[str, Mesh]]:
        """What to draw, as materials and meshes."""
        pieces = [("light steel", self.sleeve), ("bright steel", self.stub)]
        if self.boot is not None:
            pieces.append(("rubber", self.boot[0]))
        return pieces


def slip_halves(tube: tuple[float, float], start: float, slip: Sliding) -> SlipHalves | None:
    """The slip from x = `start`, mm; None where none can be made."""
    lengths = {
        "sleeve_depth": slip.closes + slip.apart,
        "spline_length": slip.apart,
        "neck_length": slip.closes + 15.0,
    }
    try:
        shape = slip_shape(slip.cross, *tube, lengths)
        built = shape.build()
    except BindpointError:
        return None
    engaged = slip.apart - slip.opened
    after = start + shape.between_lands(engaged)
    turned_round = np.diag([-1.0, -1.0, 1.0])
    boot = None
    with suppress(BindpointError):  # pulled out, it has no boot
        mesh, boot_at = shape.boot(engaged)
        moved = mesh.moved(np.eye(3), [start + boot_at, 0.0, 0.0])
        low, high = moved.bounds[:, 0]
        boot = moved, float(low), float(high)
    return SlipHalves(
        built.sleeve.moved(np.eye(3), [start, 0.0, 0.0]),
        built.stub.moved(turned_round, [after, 0.0, 0.0]),
        boot,
        after,
    )
