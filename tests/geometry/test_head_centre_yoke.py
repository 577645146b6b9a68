import numpy as np
import pytest

from geometry.head import CentreYoke
from tests.geometry.metal import (
    assert_holds_true_surface,
    ring,
    winding,
)
from tests.geometry.yoke_samples import CENTRE


def test_the_window_is_a_true_hole_through_the_ring() -> None:
    mesh = CentreYoke(**CENTRE).build().contact
    turn = np.linspace(-np.pi, np.pi, 48)
    points, out = ring(25.0, [33.0, 36.0, 39.0], turn, "x")
    assert_holds_true_surface(mesh, points, -out)
    on_axis = np.column_stack([np.linspace(-30.0, 102.0, 45), np.zeros((45, 2))])
    np.testing.assert_allclose(winding(mesh, on_axis), 0.0, rtol=0.0, atol=1e-4)


def test_the_ring_is_what_is_between_the_two_throats() -> None:
    mesh = CentreYoke(**CENTRE).build().contact
    x = mesh.triangles.mean(axis=1)[mesh.on("ring"), 0]
    assert x.min() > 10.0
    assert x.max() < 62.0
    window = mesh.triangles[mesh.on("window")]
    assert np.hypot(window[..., 1], window[..., 2]).max() == pytest.approx(25.0, abs=1e-9)


def test_the_ring_is_as_thick_as_it_says() -> None:
    """At the sides of the window the metal reaches from saddle to saddle, and no more."""
    shape = CentreYoke(**CENTRE)
    half, side = 0.5 * shape.ring_thickness, 25.05
    mesh = shape.build().contact
    within = [[36.0 - half + 0.05, 0.0, side], [36.0 + half - 0.05, 0.0, side]]
    np.testing.assert_allclose(winding(mesh, np.array(within)), 1.0, rtol=0.0, atol=1e-4)
    beyond = [[36.0 - half - 1.5, 0.0, side], [36.0 + half + 1.5, 0.0, side]]
    np.testing.assert_allclose(winding(mesh, np.array(beyond)), 0.0, rtol=0.0, atol=1e-4)
