"""The knock of play, against the motion of two inertias worked out step by step in time."""

from math import inf, radians

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from sim.overload import Train

TORQUE = 2e6


def in_time(train: Train, torque: float, gap: float) -> tuple[float, float]:
    """Speed at which the gap closes and greatest torque in the spring, by SciPy's integrator."""
    wheels = 1e12 if train.wheels == inf else train.wheels

    def wound(y: np.ndarray) -> float:
        return max(0.0, y[0] - y[2] - gap) * train.stiffness

    def moves(_: float, y: np.ndarray) -> list[float]:
        back = wound(y)
        return [y[1], (torque - back) / train.engine, y[3], back / wheels]

    def closes(_: float, y: np.ndarray) -> float:
        return y[0] - y[2] - gap

    closes.direction = 1.0  # type: ignore[attr-defined]
    together = 1.0 / (1.0 / train.engine + 1.0 / wheels)
    swing = np.sqrt(together / train.stiffness)
    long = np.sqrt(2.0 * gap * train.engine / torque) + 2.0 * np.pi * swing
    found = solve_ivp(
        moves, (0.0, long), [0.0, 0.0, 0.0, 0.0], method="DOP853", rtol=1e-10, atol=1e-13,
        max_step=swing / 50.0, events=closes,
    )  # fmt: skip
    peak = max(wound(y) for y in found.y.T)
    speeds = [y[1] - y[3] for y in found.y_events[0]]
    return (float(speeds[0]) if speeds else 0.0), peak


@pytest.mark.parametrize("play", [0.0, 0.5, 1.5, 4.0])
@pytest.mark.parametrize(
    "train",
    [Train(30e3, 17e3, 6e7), Train(300.0, inf, 6e7), Train(2e3, 5e4, 1.3e6)],
    ids=["low gear, rolling", "wheels stand", "soft"],
)
def test_closing_speed_and_peak(train: Train, play: float) -> None:
    gap = radians(play)
    speed, peak = in_time(train, TORQUE, gap)
    if play > 0.0:
        assert train.closing(TORQUE, gap) == pytest.approx(speed, rel=1e-6)
    assert train.peak(TORQUE, gap) == pytest.approx(peak, rel=5e-4)
