"""Simple bodies for what the program knows little of: axle housing, output case, tube and slip.

They only show where things are. Their own sizes are generic, from memory, and touch nothing.
"""

from contextlib import suppress
from dataclasses import dataclass
from math import pi

import numpy as np

from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.slip import SlipShape
from geometry.solids import Solid, cylinder, hull, turned
from geometry.tube import TubeShape

AXLE_TUBE = 76.0
"""Diameter of the axle tubes, mm."""

AXLE_HALF = 330.0
"""How much of an axle tube is shown on either side, mm."""

BEAD = 7.0
"""Width of a weld bead, mm."""

LEAST_TUBE = 10.0
"""Shorter than this, mm, a piece of tube is left out."""


def axle_housing(snout: float) -> Mesh:
    """A housing in a frame with x along the pinion, toward its joint, and y along the axle tubes.

    snout : mm from the middle of the housing to where its front end is.
    """
    bowl = float(np.clip(0.52 * snout, 80.0, 150.0))
    neck, cover = 0.42 * bowl, -0.30 * bowl
    round_x = [
        [-0.66 * bowl, 0.0],
        [-0.64 * bowl, 0.40 * bowl],
        [-0.50 * bowl, 0.72 * bowl],
        [cover - 9.0, 0.84 * bowl],
        [cover - 9.0, bowl],
        [cover + 10.0, bowl],
        [cover + 10.0, 0.90 * bowl],
        [0.12 * bowl, 0.88 * bowl],
        [0.45 * bowl, 0.70 * bowl],
        [0.66 * snout, neck],
        [snout - 32.0, neck],
        [snout - 28.0, neck + 6.0],
        [snout, neck + 6.0],
        [snout, 0.0],
    ]
    tube = 0.5 * AXLE_TUBE
    pieces = [turned(np.array(round_x)[::-1], "x", "housing")]
    pieces.append(cylinder("y", tube, -AXLE_HALF, AXLE_HALF, "housing"))
    pieces += _bolts(10, 0.93 * bowl, cover - 17.0, cover)
    for side in (-1.0, 1.0):
        collars = (tube + 11.0, 0.6 * bowl, bowl + 24.0), (tube + 26.0, AXLE_HALF - 14.0, AXLE_HALF)
        for radius, start, end in collars:
            low, high = sorted((side * start, side * end))
            pieces.append(cylinder("y", radius, low, high, "housing"))
        rib = [[0.1 * bowl, 0.3 * bowl], [0.1 * bowl, 0.86 * bowl], [snout - 30.0, neck + 4.0]]
        corners = [[x, y, side * z] for x, z in [*rib, [snout - 30.0, 0.3 * neck]] for y in (-5, 5)]
        pieces.append(hull(np.array(corners, dtype=np.float64), "housing"))
    return Solid.union(pieces).mesh()


def output_case(start: float) -> Mesh:
    """A case behind an output yoke, in the frame of the yoke, from x = `start`, mm."""
    profile = [
        [start, 0.0],
        [start + 215.0, 0.0],
        [start + 215.0, 82.0],
        [start + 205.0, 95.0],
        [start + 92.0, 95.0],
        [start + 92.0, 106.0],
        [start + 64.0, 106.0],
        [start + 64.0, 84.0],
        [start + 42.0, 56.0],
        [start + 12.0, 47.0],
        [start + 10.0, 52.0],
        [start, 52.0],
    ]
    pieces = [turned(np.array(profile), "x", "case"), *_bolts(8, 98.0, start + 55.0, start + 70.0)]
    for angle in np.arange(4) * (0.5 * pi) + 0.25 * pi:
        c, s = np.cos(angle), np.sin(angle)
        rib = [
            [start + 14.0, 30.0],
            [start + 14.0, 47.0],
            [start + 66.0, 92.0],
            [start + 66.0, 30.0],
        ]
        corners = [[x, r * c - w * s, r * s + w * c] for x, r in rib for w in (-4.0, 4.0)]
        pieces.append(hull(np.array(corners), "case"))
    return Solid.union(pieces).mesh()


def _bolts(count: int, circle: float, start: float, stop: float) -> list[Solid]:
    """Bolt heads on a circle of radius `circle` around x, mm."""
    angles = (np.arange(count) + 0.5) * (2.0 * pi / count)
    places = [(circle * float(np.cos(a)), circle * float(np.sin(a))) for a in angles]
    return [cylinder("x", 7.5, start, stop, "bolt", place, facets=6) for place in places]


def ball(radius: float, pieces: int, at: float = 0.0) -> Solid:
    """A ball around a place on the x axis, mm, of so many pieces from pole to pole."""
    angle = np.linspace(0.0, pi, pieces + 1)
    profile = radius * np.column_stack([np.cos(angle), np.sin(angle)])
    profile[[0, -1], 1] = 0.0
    return turned(profile + np.array([at, 0.0]), "x", "end")


def bearing_ring(at: float) -> Mesh:
    """A carrier bearing around the x axis, its middle at x = `at`, mm."""
    outside, inside, width = BEARING
    start, end = at - 0.5 * width, at + 0.5 * width
    ring = cylinder("x", 0.5 * outside, start, end, "bearing")
    return ring.cut(cylinder("x", 0.5 * inside, start - 1.0, end + 1.0, "bore", hole=True)).mesh()


def bearing_bracket(at: float) -> Mesh:
    """What holds a carrier bearing up: a band around it and a plate on top, z up, as before."""
    outside, _, width = BEARING
    start, end = at - 0.4 * width, at + 0.4 * width
    radius = 0.5 * outside
    band = cylinder("x", radius + 6.0, start, end, "bracket")
    corners = [
        [x, y, z]
        for x in (at - 24.0, at + 24.0)
        for y in (-radius - 34.0, radius + 34.0)
        for z in (radius + 2.0, radius + 10.0)
    ]
    webs = [[x, y, z] for x in (start, end) for y, z in ((-radius, 0.0), (radius, 0.0))]
    webs += [[x, y, radius + 3.0] for x in (start, end) for y in (-radius, radius)]
    holder = Solid.union(
        [band, hull(np.array(corners), "bracket"), hull(np.array(webs), "bracket")]
    )
    hole = cylinder("x", radius - 0.5, start - 1.0, end + 1.0, "bore", hole=True)
    return holder.cut(hole).mesh()


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


def slip_halves(shape: SlipShape, start: float, opened: float) -> SlipHalves | None:
    """The slip from x = `start`, opened by so many mm; None where none can be made."""
    try:
        built = shape.build()
    except BindpointError:
        return None
    engaged = shape.spline_length - opened
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
