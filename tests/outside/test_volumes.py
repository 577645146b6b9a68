"""Volumes against closed forms, and an independent mesh library's word on every generic part.

A mesh lies on the safe side of the true metal, so its volume is the true one or more, and by no
more than its chord over the curved surfaces.
"""

from math import pi

import numpy as np
import pytest
import trimesh

from geometry.mesh import Mesh
from geometry.solids import Solid, cylinder, turned
from geometry.tube import TubeShape
from sim.parts.catalogue import cross_shape, cross_sizes, slip_shape, yoke_kinds, yoke_shape

SIZES = [size.name for size in cross_sizes()]


def by_another_library(mesh: Mesh) -> float:
    """Volume by trimesh, which must also find the mesh closed and facing outward."""
    other = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    assert other.is_watertight
    assert other.is_winding_consistent
    assert other.is_volume
    assert other.volume > 0.0
    return float(other.volume)


def assert_true_or_a_little_more(found: float, true: float, curved: float, chord: float) -> None:
    """`curved` is the area, mm2, of the true curved surfaces."""
    assert true * (1.0 - 1e-12) <= found <= true + curved * chord


@pytest.mark.parametrize(
    ("outside", "wall"), [(50.8, 3.05), (63.5, 2.1), (76.2, 2.1), (88.9, 2.1), (60.0, 20.0)]
)
def test_tube(outside: float, wall: float) -> None:
    """pi/4 (D^2 - d^2) L."""
    length, inside = 900.0, outside - 2.0 * wall
    tube = TubeShape(outside=outside, wall=wall, cut_length=length, weld_bead=6.0).build()
    mesh = tube.parts["tube"]
    assert_true_or_a_little_more(
        by_another_library(mesh),
        pi / 4.0 * (outside**2 - inside**2) * length,
        pi * (outside + inside) * length,
        mesh.chord,
    )


def test_ring_with_a_bore() -> None:
    """A turned ring, 2 pi r A by Pappus, with a square section of 6 mm at r = 20 mm."""
    mesh = turned([[-3.0, 17.0], [3.0, 17.0], [3.0, 23.0], [-3.0, 23.0]], "y", "ring").mesh()
    true = 2.0 * pi * 20.0 * 36.0
    # Its inside is turned with the same facets as its outside, so both grow alike.
    found = by_another_library(mesh)
    assert true <= found <= true * (1.0 + 2.0 * mesh.chord / 23.0)


@pytest.mark.parametrize("bolts", [4, 6, 8])
def test_flange_plate_with_holes(bolts: int) -> None:
    """(pi R^2 - n pi r^2) t."""
    rim, hole, thick, circle = 54.0, 5.5, 10.0, 42.0
    angle = 2.0 * pi * (np.arange(bolts) + 0.5) / bolts
    places = circle * np.stack([np.cos(angle), np.sin(angle)], axis=1)
    plate = cylinder("x", rim, 0.0, thick, "flange").cut(
        *(cylinder("x", hole, -1.0, thick + 1.0, "bolt hole", (y, z), hole=True) for y, z in places)
    )
    mesh = plate.mesh()
    assert_true_or_a_little_more(
        by_another_library(mesh),
        (pi * rim**2 - bolts * pi * hole**2) * thick,
        2.0 * pi * (rim + bolts * hole) * thick,
        mesh.chord,
    )


@pytest.mark.parametrize("radius", [5.0, 13.5, 22.0])
def test_two_crossing_cylinders(radius: float) -> None:
    """What two equal cylinders that cross at right angles share: 16 r^3 / 3 (Archimedes)."""
    far = 3.0 * radius
    shared = cylinder("x", radius, -far, far, "a").common(cylinder("y", radius, -far, far, "b"))
    mesh = shared.mesh()
    assert_true_or_a_little_more(
        by_another_library(mesh), 16.0 / 3.0 * radius**3, 16.0 * radius**2, mesh.chord
    )
    both = Solid.union(
        [cylinder("x", radius, -far, far, "a"), cylinder("y", radius, -far, far, "b")]
    )
    whole = both.mesh()
    assert_true_or_a_little_more(
        by_another_library(whole),
        2.0 * pi * radius**2 * 2.0 * far - 16.0 / 3.0 * radius**3,
        4.0 * pi * radius * 2.0 * far,
        whole.chord,
    )


def test_cone() -> None:
    """pi r^2 h / 3."""
    mesh = turned([[0.0, 0.0], [30.0, 0.0], [0.0, 20.0]], "x", "cone").mesh()
    slant = pi * 20.0 * np.hypot(20.0, 30.0)
    assert_true_or_a_little_more(
        by_another_library(mesh), pi * 400.0 * 30.0 / 3.0, slant, mesh.chord
    )


@pytest.mark.slow
@pytest.mark.parametrize("cross", SIZES)
def test_every_generic_part(cross: str) -> None:
    for kind in yoke_kinds():
        yoke = yoke_shape(kind, cross).build()
        np.testing.assert_allclose(by_another_library(yoke.contact), yoke.contact.volume, rtol=1e-9)
        # What is shown is hollow where what touches is filled, never the other way.
        shown = sum(by_another_library(part) for name, part in yoke.parts.items() if name == "body")
        assert shown < yoke.contact.volume
    built = cross_shape(cross).build()
    for mesh in (built.contact, *built.parts.values()):
        by_another_library(mesh)
    slip = slip_shape(cross, 76.2, 2.1).build()
    for mesh in (slip.sleeve, slip.stub, slip.shape.boot(60.0)[0]):
        by_another_library(mesh)
