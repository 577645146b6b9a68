"""Torsion of a tube and the stresses of an ear, against finite elements by scikit-fem.

The tube by Prandtl's stress function on a quarter of its section; the ear as a plate in its own
plane, held at its root and pushed by a cap across the shaft.
"""

from math import pi

import numpy as np
import pytest
from scipy.spatial import Delaunay
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementTriP2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    MeshQuad2,
    MeshTri,
    condense,
    solve,
)
from skfem.helpers import ddot, dot, eye, grad, sym_grad, trace

from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.strength import Ear, ear_members, joint_load


@pytest.mark.parametrize(("outside", "wall"), [(76.2, 2.108), (76.2, 3.048), (60.0, 10.0)])
def test_torsion_of_a_tube(outside, wall):
    """Polar moment and greatest shear; the hole's edge a level line that closes without warping."""
    section = TubeSection.of_wall(outside, wall)
    inner, outer = 0.5 * section.bore, 0.5 * outside
    square = MeshQuad.init_tensor(np.linspace(inner, outer, 5), np.linspace(0.0, pi / 2, 25))
    mesh = MeshQuad2.from_mesh(square)
    radius, turn = mesh.doflocs
    mesh = MeshQuad2(np.array([radius * np.cos(turn), radius * np.sin(turn)]), mesh.t)
    basis = Basis(mesh, ElementQuad2())
    stiff = BilinearForm(lambda u, v, _: dot(grad(u), grad(v))).assemble(basis)
    load = LinearForm(lambda v, _: 2.0 * v).assemble(basis)
    at = np.hypot(*basis.doflocs)
    rim, hole = np.flatnonzero(at > outer - 1e-6), np.flatnonzero(at < inner + 1e-6)
    fixed = np.concatenate([rim, hole])
    own = solve(*condense(stiff, load, D=fixed))
    level = np.zeros(basis.N)
    level[hole] = 1.0
    level = solve(*condense(stiff, 0.0 * load, x=level, D=fixed))
    # The hole moves as one piece: its level is that at which the whole gives no work.
    quarter = 0.25 * pi * inner**2
    height = (level @ load + 2.0 * quarter - level @ (stiff @ own)) / (level @ (stiff @ level))
    stress = own + height * level
    polar = 4.0 * (stress @ load + 2.0 * height * quarter)
    assert section.polar_moment == pytest.approx(polar, rel=1e-6)
    edge = FacetBasis(mesh, ElementQuad2(), facets=mesh.facets_satisfying(
        lambda x: np.hypot(*x) > outer - 0.01 * wall, boundaries_only=True))  # fmt: skip
    slope = np.sqrt((np.asarray(edge.interpolate(stress).grad) ** 2).sum(axis=0))
    assert section.torsion(1e6) == pytest.approx(1e6 * slope.mean() / polar, rel=1e-3)


def ear_mesh(ear, step):
    """A plate (x along the shaft from the bore's middle, z across): round end, bore, straight sides
    from the bore's height to the root, and a stretch of yoke beyond it."""
    end, bore, half = ear.ring_radius, 0.5 * ear.bore, 0.5 * ear.root_width
    deep = ear.root_at + 2.0 * half
    points = []
    for radius in np.linspace(bore, end, 9):
        count = int(2.0 * pi * radius / step)
        angle = 2.0 * pi * np.arange(count) / count
        points.append(np.column_stack([radius * np.cos(angle), radius * np.sin(angle)]))
    x, z = np.meshgrid(np.arange(0.0, deep + 1e-9, step), np.linspace(-half, half, 41))
    grid = np.column_stack([x.ravel(), z.ravel()])
    width = end + (half - end) * np.clip(grid[:, 0] / ear.root_at, 0.0, 1.0)
    grid[:, 1] *= width / half
    points.append(grid[np.hypot(*grid.T) > end + 0.4 * step])
    cloud = np.concatenate(points)
    triangles = Delaunay(cloud).simplices
    middle = cloud[triangles].mean(axis=1)
    kept = triangles[np.hypot(*middle.T) > bore]
    corners = cloud[kept]
    (ax, az), (bx, bz) = (corners[:, 1] - corners[:, 0]).T, (corners[:, 2] - corners[:, 0]).T
    kept = kept[np.abs(ax * bz - az * bx) > 1e-6]
    used, renumbered = np.unique(kept, return_inverse=True)
    return MeshTri(cloud[used].T, renumbered.reshape(kept.shape).T)


def plate(ear, modulus=206_800.0, nu=0.304, force=1000.0):
    """Stress along the shaft at the root's edge and greatest von Mises stress at the bore, MPa."""
    mesh = ear_mesh(ear, 1.2)
    basis = Basis(mesh, ElementVector(ElementTriP2()))
    lame, shear = modulus * nu / (1.0 - nu**2), modulus / (2.0 * (1.0 + nu))

    def stress(e):
        return lame * eye(trace(e), 2) + 2.0 * shear * e

    stiff = BilinearForm(lambda u, v, _: ddot(stress(sym_grad(u)), sym_grad(v))).assemble(basis)
    bore = 0.5 * ear.bore
    rim = mesh.facets_satisfying(lambda x: np.hypot(*x) < bore + 0.1, boundaries_only=True)
    pushed = FacetBasis(mesh, ElementVector(ElementTriP2()), facets=rim)

    def press(v, w):
        """A cosine of pressure over the half of the bore that the cap leans on."""
        z = np.maximum(w.x[1] / np.hypot(*w.x), 0.0)
        return z * (v[0] * w.x[0] + v[1] * w.x[1]) / np.hypot(*w.x)

    load = LinearForm(press).assemble(pushed)
    across = load[basis.nodal_dofs[1]].sum() + load[basis.facet_dofs[1]].sum()
    load *= force / ear.thickness / across
    foot = basis.get_dofs(lambda x: x[0] > mesh.p[0].max() - 1e-6)
    moved = solve(*condense(stiff, load, D=foot))
    found = np.asarray(stress(sym_grad(basis.interpolate(moved))))
    where = np.asarray(basis.global_coordinates())
    mises = np.sqrt(found[0, 0] ** 2 - found[0, 0] * found[1, 1] + found[1, 1] ** 2
                    + 3.0 * found[0, 1] ** 2)  # fmt: skip
    root = np.abs(where[0] - ear.root_at) < 1.0
    outer = np.abs(where[1]) > 0.5 * ear.root_width - 2.0
    lean = found[0, 0][root & outer] / where[1][root & outer] * 0.5 * ear.root_width
    near = np.hypot(*where) < bore + 1.5
    return np.abs(lean).mean(), mises[near].max()


EAR = Ear(27.0, 16.5, 46.0, 30.0, 20.0)


def test_an_ear_as_a_plate():
    """Bending at the root within 8 %: a plate this short is no slender beam. At the edge of the
    bore 2 to 3 times the nominal stress, the notch that the program leaves out and says so."""
    ring, root, _ = ear_members(joint_load(60e3, 0.0, 30.0), EAR, material("forged yoke steel"))
    bending, notch = plate(EAR)
    assert root.stress == pytest.approx(bending, rel=0.08)
    assert 2.0 < notch / (3.0**0.5 * ring.stress) < 3.0


@pytest.mark.slow
def test_a_slender_ear_is_a_cantilever():
    """Twice as long for its width: within 3 %."""
    slim = Ear(20.0, 16.5, 34.0, 60.0, 15.0)
    root = ear_members(joint_load(60e3, 0.0, 30.0), slim, material("forged yoke steel"))[1]
    assert root.stress == pytest.approx(plate(slim)[0], rel=0.03)
