"""The two outer yokes against each other; the closed form of the ball's travel by the meshes."""

from math import asin, atan2, hypot, inf, sin

import numpy as np
import pytest

from geometry.contact.moves import Boxes
from geometry.head import HeadParts
from geometry.head.outer_pair import OuterMotion, OuterPair, outer_limit, sliding_in_carrying, split
from geometry.head.triangle import Triangle
from geometry.tolerances import TOL
from tests.geometry.head_samples import OWN, sample


@pytest.fixture(scope="module")
def parts() -> HeadParts:
    return sample().build()


def bent(carrying: float) -> Triangle:
    return Triangle.of(OWN["span"], OWN["ball"], carrying)


def carrying_bend_at(total: float) -> float:
    """By the law of sines: from the sliding cross the whole bend follows, and the rest is it."""
    return total - asin(OWN["ball"] * sin(total) / OWN["span"])


def rim_gap(at: Triangle) -> float:
    """From the stalk to the rim of the socket, mm, by plane geometry."""
    radius, hold = 0.5 * OWN["ball_diameter"], OWN["socket_mouth"] - at.reach
    away = hypot(radius, hold) * sin(atan2(radius, hold) - at.bend)
    return away - 0.5 * OWN["stalk_diameter"]


@pytest.mark.parametrize("carrying", [0.05, 0.1, 0.15, 0.2])
def test_the_stalk_nears_the_rim_as_the_closed_form_says(parts: HeadParts, carrying: float) -> None:
    """Both round, and both meshes stand out of the metal: never more gap, less by two chords."""
    at, pair = bent(carrying), OuterPair(parts)
    for spin in np.linspace(0.0, np.pi, 7):
        near = pair.nearest(at.carrying, at.sliding, spin)
        assert near.distance <= rim_gap(at) + 1e-6
        assert near.distance >= rim_gap(at) - 2.0 * TOL.chord
        assert pair.surfaces(near)[0] == "stalk"
        assert pair.surfaces(near)[1] in {"socket", "socket bore"}


def test_at_the_limit_there_is_no_gap_left(parts: HeadParts) -> None:
    carrying = carrying_bend_at(parts.limit)
    at = bent(carrying)
    np.testing.assert_allclose(at.bend, parts.limit, rtol=0.0, atol=1e-12)
    np.testing.assert_allclose(rim_gap(at), 0.0, rtol=0.0, atol=1e-9)
    assert OuterPair(parts).nearest(at.carrying, at.sliding, 0.3).distance == 0.0


def test_nothing_else_of_the_outer_yokes_meets_up_to_the_limit(parts: HeadParts) -> None:
    """By sampling: bridges, ears and flange of one against the other yoke."""
    pair = OuterPair(parts, without=("stalk",))
    for share in (0.0, 0.5, 0.9, 1.0):
        at = bent(carrying_bend_at(share * parts.limit))
        for spin in np.linspace(0.0, np.pi, 19):
            assert pair.nearest(at.carrying, at.sliding, spin).distance > 1.5


@pytest.mark.slow
def test_the_outer_yokes_are_certified_apart_up_to_where_they_meet() -> None:
    """A bridge so thick that the socket comes down on it, asked at many spins beside."""
    thick = sample(bridge_thickness=8.5, socket_mouth=45.0).build()
    found = outer_limit(thick, thick.limit)
    pair = OuterPair(thick, without=("stalk",))

    def apart(bend: float, spin: float) -> float:
        return pair.nearest(*split(thick.span, thick.ball, bend), spin).distance

    assert 0.0 < found.touch - found.clear <= TOL.certificate
    spins = np.linspace(0.0, 2.0 * np.pi, 73)
    for bend in (found.clear, 0.5 * found.clear):
        assert min(apart(bend, spin) for spin in spins) > 0.0
    assert min(apart(found.touch, spin) for spin in spins) < 0.2
    assert all(apart(found.touch + 0.02, spin) == 0.0 for spin in spins[:3])


def test_the_sample_head_is_stopped_by_its_centring_and_not_by_its_outer_yokes(
    parts: HeadParts,
) -> None:
    found = outer_limit(parts, parts.limit)
    assert (found.clear, found.touch) == (parts.limit, inf)


@pytest.mark.parametrize("size", [0.1, 0.003])
def test_no_metal_of_the_sliding_yoke_strays_more_than_is_said(
    parts: HeadParts, size: float
) -> None:
    """Random boxes of bend and spin, points and poses, against the full pose of the head."""
    rng, n = np.random.default_rng(7), 300
    low = np.stack([rng.uniform(0.0, 0.45, n), rng.uniform(0.0, 2.0 * np.pi, n)], axis=1)
    asked = Boxes(low, low + size * rng.uniform(0.0, 1.0, (n, 2)))
    moves = OuterMotion(parts.span, parts.ball).over(asked)
    R = moves.turn.T.reshape(n, 3, 3)
    for _ in range(60):
        share = rng.uniform(-1.0, 1.0, (n, 2))
        bend, spin = (0.5 * (asked.low + asked.high) + 0.5 * share * (asked.high - asked.low)).T
        q = rng.normal(scale=50.0, size=(n, 3))
        X = sliding_in_carrying(*split(parts.span, parts.ball, bend), spin, parts.span)
        there = np.einsum("nij,nj->ni", X[:, :3, :3], q) + X[:, :3, 3]
        way = np.einsum("ain,na->ni", moves.rates, share)
        way_of_origin = np.einsum("ain,na->ni", moves.sway, share)
        straight = np.einsum("nij,nj->ni", R, q + np.cross(way, q) + way_of_origin)
        straight += moves.place.T
        away = np.linalg.norm(there - straight, axis=1)
        assert (away <= moves.drift + moves.bow * np.linalg.norm(q, axis=1) + 1e-9).all()
