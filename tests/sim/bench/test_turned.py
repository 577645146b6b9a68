"""Which spin of a joint a clamped yoke stands for, against the joint's own rotations."""

from math import pi

import numpy as np
import pytest

from geometry.contact.joint_parts import Turn
from geometry.joint import rotations
from sim.bench.turned import Lines, spin_at

PLAIN = Turn(half_turn=False, mirror=False)


def ears_of(bend: float, spin: float, driving: bool) -> float:
    """Angle (rad, 0 to pi / 2) of a yoke's bores to the plane of the bend, whose normal is z."""
    joint = rotations(bend, spin)
    bores = (joint.R_JD if driving else joint.R_JN)[:, 1]
    return float(np.arcsin(abs(bores[2])))


@pytest.mark.parametrize("driving", [True, False])
@pytest.mark.parametrize("ears", [0.0, 0.2, 0.25 * pi, 1.3, 0.5 * pi])
@pytest.mark.parametrize("bend", [0.0, 0.3, 0.6, 1.0])
def test_the_ears_stand_as_they_were_clamped(bend: float, ears: float, driving: bool) -> None:
    spin = float(spin_at(bend, ears, driving))
    assert ears_of(bend, spin, driving) == pytest.approx(ears, abs=1e-9)


def test_the_four_cases_of_a_bench() -> None:
    """In line with one yoke is across with the other; at spin 0 the driving bores are in line."""
    assert float(spin_at(0.4, 0.0, driving=True)) == pytest.approx(0.0, abs=1e-12)
    assert float(spin_at(0.4, 0.5 * pi, driving=False)) % pi == pytest.approx(0.0, abs=1e-12)
    assert float(spin_at(0.4, 0.5 * pi, driving=True)) == pytest.approx(0.5 * pi, abs=1e-12)
    assert float(spin_at(0.4, 0.0, driving=False)) == pytest.approx(0.5 * pi, abs=1e-12)


SPINS = np.linspace(0.0, 2.0 * pi, 145)


def test_a_held_driven_yoke_touches_where_its_turn_and_the_curve_meet() -> None:
    """Against a fine search over bends, on a curve that depends on spin."""
    touch = (0.5 + 0.12 * np.cos(2.0 * SPINS))[None]
    lines = Lines(PLAIN, SPINS)
    for ears in (0.0, 0.3, 0.25 * pi, 1.1, 0.5 * pi):
        bends = np.linspace(0.0, 1.2, 120_001)
        curve = 0.5 + 0.12 * np.cos(2.0 * spin_at(bends, ears, driving=False))
        met = bends[np.argmax(bends >= curve)]
        found = lines.held(touch, ears, driving=False)[0]
        assert found == pytest.approx(met, abs=np.radians(0.02))


def test_a_held_driving_yoke_touches_where_the_curve_is() -> None:
    touch = (0.5 + 0.12 * np.cos(2.0 * SPINS))[None]
    found = Lines(PLAIN, SPINS).held(touch, 0.3, driving=True)[0]
    assert found == pytest.approx(0.5 + 0.12 * np.cos(0.6), abs=1e-4)


def test_yokes_that_differ_from_side_to_side_touch_on_the_sooner_side() -> None:
    touch = (0.5 + 0.1 * np.sin(SPINS))[None]
    lines = Lines(PLAIN, SPINS)
    for driving in (True, False):
        found = lines.held(touch, 0.25 * pi, driving)[0]
        assert found < 0.5


def test_a_quarter_speaks_for_the_whole_turn_of_yokes_that_are_alike() -> None:
    quarter = np.linspace(0.0, 0.5 * pi, 37)

    def curve(spins: np.ndarray) -> np.ndarray:  # type: ignore[type-arg]
        return np.asarray((0.5 + 0.1 * np.cos(2.0 * spins) + 0.03 * np.cos(6.0 * spins))[None])

    whole = Lines(PLAIN, SPINS)
    few = Lines(Turn(half_turn=True, mirror=True), quarter)
    for driving in (True, False):
        for ears in (0.0, 0.4, 1.2, 0.5 * pi):
            one = whole.held(curve(SPINS), ears, driving)[0]
            other = few.held(curve(quarter), ears, driving)[0]
            assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("half_turn", [False, True])
@pytest.mark.parametrize("mirror", [False, True])
def test_many_turns_are_folded_as_one_is(half_turn: bool, mirror: bool) -> None:
    turn = Turn(half_turn=half_turn, mirror=mirror)
    lines, spins = Lines(turn, SPINS), np.linspace(-7.0, 9.0, 301)
    one_by_one = [turn.fold(float(each))[0] for each in spins]
    np.testing.assert_allclose(lines._folded(spins), one_by_one, rtol=0, atol=1e-12)
