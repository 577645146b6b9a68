import pickle
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.distance import MeshPair
from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.symmetry import HALF_TURN_X, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.errors import BindpointError, ShapeError
from geometry.head import HeadParts, HeadShape
from geometry.head.triangle import Triangle
from geometry.head.turning import head_poses
from geometry.tolerances import TOL
from geometry.yoke import StrapYoke, WeldYoke
from tests.geometry.head_samples import OWN, outer, sample
from tests.geometry.metal import (
    Points,
    assert_holds_true_surface,
    assert_sound,
    assert_sound_yoke,
    ring,
    winding,
)
from tests.geometry.yoke_samples import STRAP


@pytest.fixture(scope="module")
def parts() -> HeadParts:
    return sample().build()


def test_every_yoke_is_sound(parts: HeadParts) -> None:
    for yoke in (parts.carrying, parts.centre, parts.sliding):
        assert_sound_yoke(yoke)
        assert 1000 <= len(yoke.contact.faces) <= 3500
        assert 0.0 < yoke.contact.chord <= TOL.chord


def test_the_parts_to_show(parts: HeadParts) -> None:
    assert {"body", "caps", "snap rings", "stalk", "ball"} <= set(parts.carrying.parts)
    assert {"body", "caps", "snap rings"} == set(parts.centre.parts)
    assert {"body", "caps", "snap rings", "socket"} <= set(parts.sliding.parts)
    for yoke in (parts.carrying, parts.centre, parts.sliding):
        for mesh in yoke.parts.values():
            assert mesh.is_watertight


@pytest.mark.slow
def test_the_plain_yokes_stay_what_they_are(parts: HeadParts) -> None:
    """Head work adds to them: nothing of the plain yoke is lost, nothing on the shaft's side."""
    for plain, worked in ((sample().carrying.build(), parts.carrying),
                          (sample().sliding.build(), parts.sliding)):  # fmt: skip
        assert set(plain.contact.label_names) < set(worked.contact.label_names)
        assert worked.kind == plain.kind
        assert worked.tube_from == plain.tube_from
        assert worked.contact.volume > plain.contact.volume
        corners = plain.contact.triangles.mean(axis=1)
        area = plain.contact.area_vectors
        inside = corners - 0.02 * area / np.linalg.norm(area, axis=1, keepdims=True)
        np.testing.assert_allclose(winding(worked.contact, inside[::7]), 1.0, rtol=0, atol=1e-4)
        beyond = worked.contact.vertices[:, 0] > 0.0
        np.testing.assert_allclose(
            worked.contact.vertices[beyond].max(axis=0), plain.contact.bounds[1], atol=1e-9
        )


def test_ball_stalk_and_socket_hold_their_true_surfaces(parts: HeadParts) -> None:
    turn = np.linspace(-np.pi, np.pi, 40)
    ball = parts.carrying.parts["ball"]
    assert_sound(ball)
    out = sphere()
    centre = np.array([-OWN["ball"], 0.0, 0.0])
    assert_holds_true_surface(ball, centre + 8.0 * out, out)
    stalk = ring(4.5, [-26.0, -25.0], turn, "x")
    assert_holds_true_surface(parts.carrying.contact, *stalk)
    outside = ring(12.0, [-42.0, -30.0], turn, "x")
    assert_holds_true_surface(parts.sliding.contact, *outside)
    points, away = ring(8.0, [-42.0, -30.0], turn, "x")
    assert_holds_true_surface(parts.sliding.parts["socket"], points, -away)


def sphere() -> Points:
    """Directions all over a sphere, none on a seam of the facets."""
    along = np.linspace(-0.995, 0.995, 41)
    turn = 2.4 * np.arange(41)
    round_ = np.sqrt(1.0 - along**2)
    return np.column_stack([along, round_ * np.cos(turn), round_ * np.sin(turn)])


def test_nothing_overlaps_while_the_head_is_straight(parts: HeadParts) -> None:
    for carrying_drives in (True, False):
        for joint in parts.joints(carrying_drives):
            turn = ClosingJoint(joint).turn
            assert turn.half_turn
            assert turn.mirror


def test_the_bridges_clear_the_cross_by_what_they_should(parts: HeadParts) -> None:
    for yoke in (parts.carrying, parts.sliding):
        bridge = yoke.contact.triangles[yoke.contact.on("bridge")]
        middle = np.abs(bridge[..., 1]).min(axis=1) < 10.0
        assert bridge[middle, :, 0].max() <= -OWN["bridge_at"] + 1e-9


def test_only_the_socket_can_reach_the_window_and_never_the_ball(parts: HeadParts) -> None:
    """Which is why the ball is left out of what can touch."""
    ball = MeshPair(parts.carrying.parts["ball"], parts.centre.contact)
    socket = MeshPair(parts.sliding.parts["socket"], parts.centre.contact)
    for bend in np.linspace(0.0, 0.3, 5):
        bent = Triangle.of(parts.span, parts.ball, bend)
        for spin in np.linspace(0.0, np.pi, 9):
            at = head_poses(bent.carrying, bent.sliding, spin, parts.span)
            gaps = []
            for pair, X_H in ((ball, at.X_H_driving), (socket, at.X_H_driven)):
                X_PC = np.linalg.inv(X_H) @ at.X_H_centre
                gaps.append(pair.nearest(X_PC[:3, :3], X_PC[:3, 3]).distance)
            assert gaps[0] > gaps[1] > 0.0


def test_the_limit_is_that_of_ball_and_socket(parts: HeadParts) -> None:
    assert parts.limit == sample().centring.limit
    assert 0.35 < parts.limit < 0.55
    assert parts.dimensions == OWN


def test_a_head_travels_between_processes(parts: HeadParts) -> None:
    again = pickle.loads(pickle.dumps(parts))
    assert again.carrying.contact.key() == parts.carrying.contact.key()
    assert again.limit == parts.limit
    assert again.dimensions == parts.dimensions


def test_either_way_round_it_is_the_same_head(parts: HeadParts) -> None:
    first, second = parts.joints(True)
    assert (first.driving, first.driven) == (parts.carrying.contact, parts.centre.contact)
    assert (second.driving, second.driven) == (parts.centre.contact, parts.sliding.contact)
    first, second = parts.joints(False)
    assert (first.driving, first.driven) == (parts.sliding.contact, parts.centre.contact)
    assert (second.driving, second.driven) == (parts.centre.contact, parts.carrying.contact)


@pytest.mark.slow
@given(
    st.lists(st.sampled_from(sorted(OWN)), min_size=1, max_size=3, unique=True),
    st.lists(st.floats(0.6, 1.5), min_size=3, max_size=3),
)
@settings(max_examples=10, deadline=None)
def test_whatever_the_numbers_a_sound_head_or_a_plain_error(
    names: list[str], factors: list[float]
) -> None:
    changed = {name: OWN[name] * factor for name, factor in zip(names, factors, strict=False)}
    try:
        built = sample(**changed).build()
    except BindpointError:
        return
    for yoke in (built.carrying, built.centre, built.sliding):
        assert yoke.contact.is_watertight
        for flip in (MIRROR_Y, MIRROR_Z, HALF_TURN_X):
            assert is_symmetric(yoke.contact, flip)
    assert 0.0 < built.limit < 1.2


@pytest.mark.parametrize(
    ("change", "names"),
    [
        ({"bridge_at": 12.0}, ("bridge_at", "hub_diameter")),
        ({"ball": 28.0}, ("ball", "bridge_thickness")),
        ({"ball": 46.0}, ("span less ball", "bridge_thickness")),
        ({"stalk_diameter": 15.5}, ("stalk_diameter", "ball_diameter")),
        ({"socket_diameter": 17.0}, ("socket_diameter", "ball_diameter")),
        ({"socket_diameter": 49.0}, ("socket_diameter", "window_diameter")),
        ({"socket_mouth": 35.0}, ("socket_mouth", "span less ball")),
        ({"socket_mouth": 49.0}, ("socket_mouth", "bridge")),
        ({"throat_depth": 36.0}, ("throat_depth", "span")),
        ({"span": -72.0}, ("span", "more than 0")),
        ({"carrying": StrapYoke(**STRAP)}, ("carrying", "strap yoke", "flange")),
        ({"sliding": outer(WeldYoke, cap_span=80.0)}, ("sliding", "80 mm", "82 mm")),
    ],
)
def test_a_clash_names_the_dimensions(change: dict[str, Any], names: tuple[str, ...]) -> None:
    with pytest.raises(ShapeError) as caught:
        sample(**change)
    for name in names:
        assert name in str(caught.value)


def test_every_dimension_says_what_to_measure() -> None:
    described = HeadShape.described()
    assert [item.name for item in described] == list(OWN)
    assert all(len(item.about) > 10 and item.unit == "length" for item in described)
