"""The surface around where a field is negative: always closed, volumes in closed form."""

import numpy as np
import pytest

from geometry.mesh import Mesh
from geometry.relief.levelset import below_zero
from geometry.solids import Solid


def surface(values: np.ndarray, step: float = 1.0) -> Mesh:
    return Mesh.uniform(*below_zero(values, np.zeros(3), step), "surface")


@pytest.mark.parametrize("seed", range(5))
def test_any_field_gives_a_closed_surface_that_faces_outward(seed: int) -> None:
    values = np.random.default_rng(seed).normal(size=(9, 11, 8))
    mesh = surface(values)
    assert mesh.is_watertight
    assert mesh.volume > 0.0
    assert Solid.from_mesh(mesh).volume == pytest.approx(mesh.volume)


@pytest.mark.parametrize("step", [1.0, 0.5])
def test_a_ball_has_its_volume_to_second_order(step: float) -> None:
    place = np.arange(-10.0, 10.0 + step, step)
    x, y, z = np.meshgrid(place, place, place, indexing="ij")
    mesh = surface(np.sqrt(x * x + y * y + z * z) - 7.0, step)
    true = 4.0 / 3.0 * np.pi * 7.0**3
    assert mesh.volume == pytest.approx(true, rel=0.012 * step**2)


def test_a_slanting_half_space_is_flat_to_rounding() -> None:
    """A field that is linear is met exactly: its surface is the plane."""
    x, y, z = np.meshgrid(*[np.arange(12.0)] * 3, indexing="ij")
    mesh = surface(x + 0.3 * y - 0.2 * z - 5.0)
    inner = mesh.vertices[((mesh.vertices > 1.5) & (mesh.vertices < 9.5)).all(axis=1)]
    off = inner @ np.array([1.0, 0.3, -0.2]) - 5.0
    kept = np.abs(off) < 0.5
    assert np.abs(off[kept]).max() < 0.03


def test_outer_nodes_count_as_outside_and_zero_as_outside() -> None:
    values = -np.ones((5, 5, 5))
    mesh = surface(values)
    assert mesh.bounds.min() >= 0.0
    assert mesh.bounds.max() <= 4.0
    assert 8.0 < mesh.volume < 64.0
    values[2, 2, 2] = 0.0
    assert surface(values).is_watertight
