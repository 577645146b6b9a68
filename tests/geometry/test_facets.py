from math import pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import ShapeError
from geometry.facets import (
    EDGE,
    GAP,
    arc,
    circle,
    facet_gap,
    facets_around,
    rounded_rectangle,
)
from geometry.tolerances import TOL

RADII = st.floats(0.5, 200.0)


def area(outline: np.ndarray) -> float:
    x, y = outline.T
    return float(0.5 * (x * np.roll(y, -1) - y * np.roll(x, -1)).sum())


def lows_and_highs(outline: np.ndarray) -> tuple[float, float]:
    """Least and greatest distance from the origin of a closed polygon round it."""
    after = np.roll(outline, -1, axis=0)
    along = after - outline
    share = np.clip(-(outline * along).sum(1) / (along**2).sum(1), 0.0, 1.0)
    nearest = outline + share[:, None] * along
    return np.linalg.norm(nearest, axis=1).min(), np.linalg.norm(outline, axis=1).max()


def test_two_gaps_at_a_right_angle_stay_within_the_chord() -> None:
    assert TOL.chord >= EDGE * GAP


@given(RADII, st.booleans())
def test_a_circle_keeps_to_its_side_and_to_its_gap(radius: float, hole: bool) -> None:
    outline = circle(radius, hole)
    low, high = lows_and_highs(outline)
    gap = facet_gap(radius, len(outline), hole)
    assert gap <= GAP
    assert area(outline) > 0.0
    true = (radius - gap, radius) if hole else (radius, radius + gap)
    np.testing.assert_allclose((low, high), true, rtol=1e-12)
    # Across the axes it measures what it should, to the last digit.
    np.testing.assert_allclose(outline.max(axis=0), radius, rtol=1e-14)


@given(RADII, st.booleans())
def test_no_fewer_facets_would_do(radius: float, hole: bool) -> None:
    count = facets_around(radius, hole)
    assert count % 4 == 0
    if count > 8:
        assert facet_gap(radius, count - 4, hole) > GAP


@given(RADII)
def test_area_of_the_tangent_polygon(radius: float) -> None:
    outline = circle(radius)
    count = len(outline)
    np.testing.assert_allclose(area(outline), count * radius**2 * np.tan(pi / count), rtol=1e-12)


@given(RADII, st.floats(-3.0, 3.0), st.floats(0.1, 3.0), st.booleans(), st.booleans())
def test_an_arc_ends_on_the_circle_and_keeps_to_its_side(
    radius: float, start: float, span: float, back: bool, hollow: bool
) -> None:
    stop = start - span if back else start + span
    points = arc((3.0, -2.0), radius, start, stop, hollow) - [3.0, -2.0]
    size = np.linalg.norm(points, axis=1)
    for end, angle in ((points[0], start), (points[-1], stop)):
        np.testing.assert_allclose(
            end, radius * np.array([np.cos(angle), np.sin(angle)]), rtol=0.0, atol=1e-12 * radius
        )
    middles = np.linalg.norm(0.5 * (points[1:] + points[:-1]), axis=1)
    if hollow:
        np.testing.assert_allclose(size, radius, rtol=1e-12)
        assert (middles <= radius).all()
        assert middles.min() >= radius - GAP - 1e-9
    else:
        assert (size >= radius * (1.0 - 1e-12)).all()
        assert size.max() <= radius + GAP + 1e-9
        assert (middles >= radius * (1.0 - 1e-12)).all()


def test_no_radius_gives_a_sharp_corner() -> None:
    np.testing.assert_allclose(arc((1.0, 2.0), 0.0, 0.0, 1.0), [[1.0, 2.0]], rtol=0, atol=0)


@given(st.floats(1.0, 60.0), st.floats(1.0, 60.0), st.floats(0.01, 1.0))
def test_a_rounded_rectangle_holds_the_true_one(y: float, z: float, share: float) -> None:
    corner = share * min(y, z)
    outline = rounded_rectangle(y, z, corner)
    np.testing.assert_allclose(outline.max(axis=0), [y, z], rtol=1e-12)
    np.testing.assert_allclose(outline.min(axis=0), [-y, -z], rtol=1e-12)
    true = 4.0 * y * z - (4.0 - pi) * corner**2
    assert true * (1.0 - 1e-12) <= area(outline) <= true + 2.0 * pi * corner * GAP


def test_a_rectangle_as_round_as_it_is_wide_is_a_circle() -> None:
    np.testing.assert_allclose(
        rounded_rectangle(20.0, 20.0, 20.0), circle(20.0), rtol=0.0, atol=1e-12
    )


@pytest.mark.parametrize("radius", [0.0, -1.0, float("nan")])
def test_no_circle_is_refused(radius: float) -> None:
    with pytest.raises(ShapeError, match="expected more than 0"):
        facets_around(radius)


@pytest.mark.parametrize("corner", [0.0, 10.1])
def test_corners_that_do_not_fit_are_refused(corner: float) -> None:
    with pytest.raises(ShapeError, match="do not fit"):
        rounded_rectangle(10.0, 12.0, corner)
