"""Shapes of what is around a shaft: things near it, links and springs. Only to show."""

import numpy as np

from geometry.convex import Bars, Boxes
from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, prism
from sim.frames import unit
from sim.rig import Rig
from sim.rig.surroundings import Surrounding
from sim.surroundings import thing_of
from viewer.draw.camera import Floats

BAR, EYE, EYE_WIDTH = 17.0, 27.0, 56.0
"""Radius of a link's bar and of its eyes, and width of an eye, mm; from memory."""

LEAF_WIDTH, LEAF, LEAVES = 60.0, 8.0, 4
"""Width and thickness of a leaf, mm, and how many lie on each other at the seat; from memory."""


def thing_mesh(rig: Rig, surrounding: Surrounding) -> Mesh:
    """A thing near the shaft, in C as it lies at ride height, mm.

    Raises MeshError for a mesh file that cannot be read.
    """
    thing = thing_of(rig, surrounding)
    if thing.mesh is not None:
        return thing.mesh
    if isinstance(thing.pieces, Boxes):
        (x, y, z), (a, b, c) = thing.pieces.centre[0], thing.pieces.half[0]
        outline = np.array([[x - a, y - b], [x + a, y - b], [x + a, y + b], [x - a, y + b]])
        return prism(outline, "z", z - c, z + c, thing.name).mesh()
    if isinstance(thing.pieces, Bars):
        start, stop = thing.pieces.start[0], thing.pieces.stop[0]
        return bar(start, stop, float(thing.pieces.radius[0]))
    raise TypeError(f"{thing.name}: came {type(thing.pieces).__name__}, expected boxes or bars")


def bar(start: Floats, stop: Floats, radius: float) -> Mesh:
    """A round bar with flat ends between two points, mm."""
    along = stop - start
    length = float(np.linalg.norm(along))
    return cylinder("x", radius, 0.0, length, "bar").mesh().moved(_lying(along), start)


def link(length: float) -> Mesh:
    """A link along x from 0 to `length`, mm, with an eye across it at either end."""
    eyes = []
    for at in (0.0, length):
        eye = cylinder("y", EYE, -0.5 * EYE_WIDTH, 0.5 * EYE_WIDTH, "eye").mesh()
        eyes.append(Solid.from_mesh(eye.moved(np.eye(3), [at, 0.0, 0.0])))
    rod = cylinder("x", BAR, 0.0, length, "bar")
    return Solid.union([rod, *eyes]).mesh()


def half_leaf(eye: Floats) -> Mesh:
    """Half a leaf spring from its seat at the origin, level there, to its eye (3,), mm."""
    along, rise = float(eye[0]), float(eye[2])
    share = np.linspace(0.0, 1.0, 25)
    x, z = along * share, rise * share**2
    leaves = np.ceil(LEAVES * (1.0 - share) + 1e-9).clip(1)
    lower = np.column_stack([z - 0.5 * LEAF - LEAF * (leaves - 1), x])
    outline = np.concatenate([lower, np.column_stack([z + 0.5 * LEAF, x])[::-1]])
    if along > 0.0:  # seen along y an outline is (z, x)
        outline = outline[::-1]
    half = 0.5 * LEAF_WIDTH
    ring = cylinder("y", 20.0, -half, half, "eye").mesh().moved(np.eye(3), [along, 0.0, rise])
    strip = prism(outline, "y", -half, half, "leaf").mesh()
    return Mesh.join([strip, ring])


def _lying(along: Floats) -> Floats:
    """Rotation (3, 3) that lays x along a direction."""
    x = unit(along)
    y = unit(np.cross([0.0, 0.0, 1.0] if abs(x[2]) < 0.9 else [1.0, 0.0, 0.0], x))
    return np.stack([x, y, np.cross(x, y)], axis=-1)
