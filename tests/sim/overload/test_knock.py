"""The knock of play at its ends."""

from math import inf, radians, sqrt

import pytest

from sim.overload import KnockError, Train
from sim.overload.knock import knock

TRAIN = Train(20e3, 15e3, 1e7)


def test_no_play_no_knock() -> None:
    found = knock((TRAIN, TRAIN, TRAIN), 2e6, 0.0, 1e-2)
    assert found.speed.value == 0.0
    assert found.peak.value == pytest.approx(2.0 * TRAIN.steady(2e6), rel=1e-12)
    assert found.adds.value == 1.0
    assert found.force.value == pytest.approx(1e-2 * found.peak.value, rel=1e-12)


def test_no_torque_no_knock() -> None:
    assert TRAIN.closing(0.0, 0.03) == TRAIN.peak(0.0, 0.03) == 0.0


def test_more_play_knocks_harder() -> None:
    peaks = [TRAIN.peak(2e6, radians(play)) for play in (0.0, 0.5, 1.0, 2.0, 4.0)]
    assert peaks == sorted(set(peaks))


def test_the_energy_is_there() -> None:
    """Work of the torque over the gap and the wind-up is what the spring and the motion have."""
    held = Train(20e3, inf, 1e7)
    torque, gap = 2e6, 0.02
    peak = held.peak(torque, gap)
    wound = peak / held.stiffness
    assert torque * (gap + wound) == pytest.approx(0.5 * peak * wound, rel=1e-12)
    assert held.closing(torque, gap) == pytest.approx(sqrt(2.0 * torque * gap / 20e3), rel=1e-12)


def test_a_train_that_is_none() -> None:
    with pytest.raises(KnockError, match="stiffness"):
        Train(1.0, 1.0, 0.0)
    with pytest.raises(KnockError, match="wheel inertia: got 0"):
        Train(1.0, 0.0, 1.0)
    with pytest.raises(KnockError, match="gap"):
        TRAIN.peak(1.0, -0.1)
