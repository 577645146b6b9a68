"""Bodies that only the pictures of an inspection's words need: a cap and its needles, a stub.

All are of the generic joint `SIZE`, in the frames of its parts, mm; as far as they are no parts of
the catalogue, their proportions are from memory and serve to show, not to measure.
"""

from collections.abc import Callable, Iterable
from functools import cache
from math import cos, pi, sin

import numpy as np

from geometry.cross import Cross
from geometry.mesh import Floats, Mesh
from geometry.solids import Axis, Solid, cylinder, loft, prism, turned
from geometry.spline import spline_hole, tooth_outline
from geometry.yoke.base import Yoke
from sim.parts.catalogue import cross_shape, yoke_shape

SIZE = "30 x 92"
"""The joint that is drawn; its proportions are those of the others."""

CROSS = cross_shape(SIZE)
YOKE = yoke_shape("weld yoke", SIZE)

TRUNNION = 0.5 * CROSS.trunnion_diameter
CAP = 0.5 * CROSS.cap_diameter
SPAN = 0.5 * CROSS.span
"""From the cross's centre to the outer end of a cap."""

MOUTH = SPAN - CROSS.cap_length
HUB = 0.5 * CROSS.hub_span
END = SPAN - 2.0
"""From the cross's centre to the end of a trunnion."""

NEEDLE = 1.5
"""Radius of a needle."""

NEEDLES = int(pi * (TRUNNION + NEEDLE) / NEEDLE)
"""How many stand round a cap."""

FLOOR = 2.0
"""Thickness of a cap's bottom; a trunnion's end runs on it."""

STUB, TEETH = 44.0, 16
"""Diameter of the stub over its teeth, and their number: coarse, so that they are seen."""

TUBE = 38.0
"""Radius of the tube."""

Warp = Callable[[Floats], Floats]
"""Where vertices (n, 3) go."""


@cache
def cross() -> Cross:
    """The cross."""
    return CROSS.build()


@cache
def yoke(kind: str) -> Yoke:
    """A yoke of the catalogue."""
    return yoke_shape(kind, SIZE).build()


@cache
def cap() -> Solid:
    """A cap alone, along y as on its trunnion: open toward the cross."""
    inside = TRUNNION + 2.0 * NEEDLE
    profile = [
        [MOUTH, CAP], [MOUTH, inside], [SPAN - FLOOR, inside], [SPAN - FLOOR, 0.0], [SPAN, 0.0],
        [SPAN, CAP - 1.5], [SPAN - 1.5, CAP],
    ]  # fmt: skip
    return turned(np.array(profile), "y", "cap")


def needles(numbers: Iterable[int] | None = None, low: float = 1.0, size: float = NEEDLE) -> Mesh:
    """Needles of a cap, standing round its wall along y.

    numbers : which of the `NEEDLES`. low : mm from the mouth where they begin. size : their radius.
    """
    radius = TRUNNION + NEEDLE
    rods = []
    for number in range(NEEDLES) if numbers is None else numbers:
        turn = 2.0 * pi * number / NEEDLES
        # Those of a cylinder about y: z first, then x.
        centre = radius * cos(turn), radius * sin(turn)
        ends = MOUTH + low, SPAN - FLOOR - 0.2
        rods.append(cylinder("y", size - 0.12, *ends, "needle", centre, facets=10).mesh())
    return Mesh.join(rods)


def stub(twist: float = 0.0, thin: float = 1.0) -> Mesh:
    """The splined stub of a slip along x, its end at x = 0.

    twist : rad, of its end against its root. thin : width of its teeth as a share of the right one.
    """
    teeth = tooth_outline(STUB, TEETH).reshape(TEETH, 4, 2)
    middle = teeth.mean(axis=1, keepdims=True)
    middle /= np.linalg.norm(middle, axis=2, keepdims=True)
    along = (teeth * middle).sum(axis=2, keepdims=True) * middle
    flat = (along + thin * (teeth - along)).reshape(-1, 2)
    sections = []
    for x in np.linspace(-70.0, 0.0, 15 if twist else 2):
        turn = twist * (1.0 + x / 70.0)
        c, s = cos(turn), sin(turn)
        sections.append((float(x), flat @ np.array([[c, s], [-s, c]])))
    spline = loft(sections, "x", "spline")
    return Solid.union([spline, cylinder("x", 17.5, -95.0, -69.0, "neck")]).mesh()


@cache
def sleeve() -> Solid:
    """What the stub slides in, its mouth at x = 0."""
    outside = cylinder("x", 28.0, 0.0, 70.0, "sleeve")
    return outside.cut(spline_hole(STUB + 1.0, TEETH, -1.0, 48.0))


def tube(start: float = 0.0, stop: float = 150.0) -> Mesh:
    """A piece of tube along x in fine rings, so that it can be warped."""
    places = np.linspace(start, stop, 61)
    skin = np.stack([places, np.full_like(places, TUBE)], axis=1)
    ends = np.array([[start, 0.0], [stop, 0.0]])
    return turned(np.concatenate([ends, skin[::-1]]), "x", "tube", facets=72).mesh()


def box(low: tuple[float, float, float], high: tuple[float, float, float]) -> Solid:
    """A box along the axes from corner to corner."""
    (x, y, z), (right, back, top) = low, high
    return prism([[x, y], [right, y], [right, back], [x, back]], "z", z, top, "cut")


def without(mesh: Mesh, *tools: Solid) -> Mesh:
    """What is left of a body when something is taken away."""
    return Solid.from_mesh(mesh).cut(*tools).mesh()


def warped(mesh: Mesh, warp: Warp) -> Mesh:
    """A mesh whose vertices went elsewhere."""
    return Mesh(warp(mesh.vertices), mesh.faces, mesh.labels, mesh.label_names, mesh.chord)


def moved(by: tuple[float, float, float], axis: Axis = "z", turn: float = 0.0) -> Floats:
    """Pose (4, 4) of what is turned by `turn`, rad, about an axis through the origin and moved."""
    number = "xyz".index(axis)
    a, b = (number + 1) % 3, (number + 2) % 3
    pose = np.eye(4)
    pose[[a, b], [a, b]] = cos(turn)
    pose[a, b], pose[b, a] = -sin(turn), sin(turn)
    pose[:3, 3] = by
    return pose
