"""The root of a trunnion: its notch by finite elements, its nominal stress by numbers apart."""

import numpy as np
import pytest
from skfem import (
    Basis,
    BilinearForm,
    ElementQuad2,
    ElementVector,
    FacetBasis,
    LinearForm,
    MeshQuad,
    condense,
    solve,
)

from sim.overload.root import Root
from sim.strength import Trunnion

SHEAR, POISSON = 79_500.0, 0.3
LAME = 2.0 * SHEAR * POISSON / (1.0 - 2.0 * POISSON)


def stepped(step: float, fillet: float, fine: int) -> MeshQuad:
    """Half a section (r, z) of a bar of diameter 1 on one of `step`, z along it from the step."""
    thick, out = 0.5 * step, 0.5 + fillet
    up = 1.0 - (1.0 - np.linspace(0.0, 1.0, 4 * fine + 1)) ** 2.2  # denser at the surface
    arc = np.linspace(0.0, 0.5 * np.pi, 3 * fine + 1)
    on = fillet + 1.2 * np.linspace(0.0, 1.0, 2 * fine + 1)[1:] ** 1.6
    z = np.concatenate([fillet * (1.0 - np.cos(arc)), on])
    top = np.concatenate([out - fillet * np.sin(arc), np.full(len(on), 0.5)])
    more = np.linspace(out, thick, max(2, round((thick - out) / fillet * fine)) + 1)[1:]
    behind = -1.0 * np.linspace(0.0, 1.0, 2 * fine + 1) ** 1.6
    blocks = (
        (np.outer(top, up), np.repeat(z[:, None], len(up), 1)),
        np.meshgrid(np.concatenate([out * up, more]), behind),
    )
    points: list[np.ndarray] = []
    cells: list[np.ndarray] = []
    for r, along in blocks:
        at = sum(map(len, points)) + np.arange(r.size).reshape(r.shape)
        points.append(np.stack([r.ravel(), along.ravel()], axis=1))
        corners = (at[:-1, :-1], at[:-1, 1:], at[1:, 1:], at[1:, :-1])
        cells.append(np.stack([corner.ravel() for corner in corners], axis=1))
    merged, where = np.unique(np.concatenate(points).round(12), axis=0, return_inverse=True)
    return MeshQuad(merged.T.copy(), where.ravel()[np.concatenate(cells)].T.copy())


def strains(u, r):
    """Of the first harmonic round the axis, (U cos, V sin, W cos): rr, tt, zz, rz, rt, tz."""
    (U, V, W), d = u, u.grad
    return (
        d[0][0], (U + V) / r, d[2][1],
        d[0][1] + d[2][0], d[1][0] - (U + V) / r, d[1][1] - W / r,
    )  # fmt: skip


def notch_by_elements(step: float, fillet: float, fine: int) -> float:
    """Greatest stress over that of the thin bar's outside, both bent by the same moment."""
    mesh = stepped(step, fillet, fine)
    basis = Basis(mesh, ElementVector(ElementQuad2(), 3), intorder=5)

    def energy(u, v, w):
        e, f = strains(u, w.x[0]), strains(v, w.x[0])
        straight = sum(a * b for a, b in zip(e[:3], f[:3], strict=True))
        skewed = sum(a * b for a, b in zip(e[3:], f[3:], strict=True))
        swells = sum(e[:3]) * sum(f[:3])
        return w.x[0] * (LAME * swells + 2.0 * SHEAR * straight + SHEAR * skewed)

    far, near = float(mesh.p[1].max()), float(mesh.p[1].min())
    end = FacetBasis(mesh, basis.elem, facets=mesh.facets_satisfying(
        lambda x: np.isclose(x[1], far)))  # fmt: skip
    pull = LinearForm(lambda v, w: w.x[0] * 2.0 * w.x[0] * v[2]).assemble(end)
    held = np.concatenate([
        basis.get_dofs(lambda x: np.isclose(x[1], near) | np.isclose(x[0], 0.0)).all("u^3"),
        basis.get_dofs(lambda x: np.isclose(x[0], 0.0) & np.isclose(x[1], near)).all("u^1"),
    ])  # fmt: skip
    moved = solve(*condense(BilinearForm(energy).assemble(basis), pull, D=held))
    skin = mesh.facets_satisfying(
        lambda x: (x[1] > 0.0) & (x[1] < 3.0 * fillet) & (x[0] > 0.49), boundaries_only=True
    )
    round_ = FacetBasis(mesh, basis.elem, facets=skin)
    rr, tt, zz, rz, _, _ = strains(round_.interpolate(moved), round_.global_coordinates()[0])
    s_rr, s_zz = (LAME * (rr + tt + zz) + 2.0 * SHEAR * e for e in (rr, zz))
    most = 0.5 * (s_rr + s_zz) + np.hypot(0.5 * (s_rr - s_zz), SHEAR * rz)
    return float(most.max())


@pytest.mark.parametrize(
    ("step", "fillet"),
    [(1.2, 0.05), (1.2, 0.08), (1.33, 0.05), (1.33, 0.08), (1.33, 0.15), (1.5, 0.08), (1.5, 0.15)],
)
def test_the_notch_of_a_fillet_in_bending(step: float, fillet: float) -> None:
    """The fit of [TIPTON, from memory] against elements with one harmonic round the axis."""
    trunnion = Trunnion(17.5, 8.0, 12.0, 26.0, 16.0, 30.0)
    by_fit = Root(trunnion, step, 0.0).notch(fillet)
    assert by_fit == pytest.approx(notch_by_elements(step, fillet, 5), rel=0.015)


def test_nominal_stress_is_that_worked_apart() -> None:
    """T 2000 N m, R 30, lever 8, trunnion 17.5 with a hole of 4 mm: 508.208 MPa."""
    trunnion = Trunnion(17.5, 8.0, 12.0, 26.0, 16.0, 30.0, 4.0)
    assert Root(trunnion, 1.3, 0.0).nominal(2e6) == pytest.approx(508.208, abs=5e-4)
