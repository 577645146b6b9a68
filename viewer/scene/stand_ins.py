"""Simple bodies for what the program knows little of: axle housing, output case, tube and slip.

They only show where things are. Their own sizes are generic, from memory, and touch nothing.
"""

from math import pi

import numpy as np

from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.slip import SlipShape
from geometry.solids import Solid, cylinder, turned
from geometry.tube import TubeShape
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


def plain_tube(outside: float, wall: float, start: float, end: float) -> list[tuple[str, Mesh]]:
    """A tube along x from `start` to `end`, mm, as materials and meshes; nothing if too short."""
    if end - start < LEAST_TUBE:
        return []
    tube = TubeShape(outside=outside, wall=wall, cut_length=end - start, weld_bead=BEAD).build()
    shift = np.array([start, 0.0, 0.0])
    looks = {"tube": "light steel", "weld beads": "grey steel"}
    return [(looks[name], mesh.moved(np.eye(3), shift)) for name, mesh in tube.parts.items()]


def slip_shape(outside: float, wall: float, closes: float, opens: float) -> SlipShape:
    """A generic slip that has `closes` and `opens` mm left when it is `closes` from its bottom."""
    spline = min(35.0, 0.5 * outside)
    return SlipShape(
        name="slip",
        tube_diameter=outside,
        shoulder=8.0,
        pilot_diameter=outside - 2.0 * wall,
        pilot_length=12.0,
        spline_diameter=spline,
        spline_teeth=16.0,
        spline_length=closes + opens + 20.0,
        neck_length=25.0,
        sleeve_diameter=spline + 13.0,
        sleeve_depth=closes + opens,
        boot_diameter=spline + 27.0,
    )


def shaft_between(
    name: str,
    X_C: Floats,
    lands: tuple[float, float],
    tube: tuple[float, float],
    slip: tuple[float, float, float] | None,
) -> tuple[PosedPart, ...]:
    """Tube, and slip where there is one, between the weld lands of a shaft's two yokes.

    X_C : (4, 4) pose of the shaft: x from the output joint toward the pinion joint.
    lands : x of the two weld lands, mm. tube : outside and wall, mm.
    slip : closing and opening left at ride height and opening since then, mm.
    """
    outside, wall = tube
    start, end = lands
    pieces: list[tuple[str, Mesh]] = []
    if slip is not None:
        found = _slip(outside, wall, start + LEAST_TUBE, slip, end - LEAST_TUBE)
        if found is not None:
            slid, middle = found
            pieces += [*plain_tube(outside, wall, start, start + LEAST_TUBE), *slid]
            start = middle
    pieces += plain_tube(outside, wall, start, end)
    return tuple(PosedPart(name, material, mesh, X_C) for material, mesh in pieces)


def _slip(
    outside: float, wall: float, start: float, slip: tuple[float, float, float], end: float
) -> tuple[list[tuple[str, Mesh]], float] | None:
    """The slip from x = `start`, and where it ends; None where it has no room or cannot be."""
    closes, opens, opened = slip
    try:
        shape = slip_shape(outside, wall, closes, max(opens, 1.0) + 50.0)
        engaged = shape.sleeve_depth - closes - opened
        after = start + shape.between_lands(engaged)
        boot, boot_at = shape.boot(engaged)
        built = shape.build()
    except BindpointError:
        return None
    if after > end:
        return None
    turned_round = np.diag([-1.0, -1.0, 1.0])
    return [
        ("light steel", built.sleeve.moved(np.eye(3), [start, 0.0, 0.0])),
        ("bright steel", built.stub.moved(turned_round, [after, 0.0, 0.0])),
        ("rubber", boot.moved(np.eye(3), [start + boot_at, 0.0, 0.0])),
    ], after
