"""Needles in slices against an elastic half space, which knows of no slices (tamaas, Linux only).

One of the two line contacts of a needle: each takes half of the tilt and of the approach. The half
space is periodic across the needle; 16 mm are far enough, for 8 mm give the same.
"""

import numpy as np
import pytest
import tamaas as tm

from sim.bearing import Needles
from sim.bearing.needles import MODULUS, POISSON, hertz_line
from sim.cocked import Row

NEEDLES = Needles.full(2.5, 12.0, 17.5)
RADIUS = 1.0 / (2.0 / 2.5 + 2.0 / 17.5)
TOGETHER = MODULUS / (2.0 * (1.0 - POISSON**2))
FORCE = 1000.0
MRAD = 1e-3

tm.set_log_level(tm.LogLevel.error)


def half_space(tilt: float, relieved: bool = True) -> tuple[np.ndarray, np.ndarray, float]:
    """Places along the needle, N/mm there, greatest pressure; the needle's ends as of `Row`."""
    sides, steps = (16.0, 16.0), (4096, 96)
    across, along = (
        (np.arange(n) + 0.5) * (side / n) - 0.5 * side for side, n in zip(sides, steps, strict=True)
    )
    share = np.clip((2.0 * np.abs(along) - (12.0 - 6.25)) / 6.25, 0.0, 1.0 - 1e-12)
    falls = -0.0005 * 2.5 * np.log1p(-(share**2)) if relieved else np.zeros_like(along)
    height = -(across[:, None] ** 2) / (2.0 * RADIUS) + along * tilt - falls
    height = np.where(np.abs(along) < 6.0, height, height.min() - 1.0)
    model = tm.ModelFactory.createModel(tm.model_type.basic_2d, list(sides), list(steps))
    model.E, model.nu = TOGETHER, 0.0
    solver = tm.PolonskyKeerRey(model, height, 1e-8)
    solver.solve(FORCE / (sides[0] * sides[1]))
    pressure = np.asarray(model.traction)
    return along, pressure.sum(axis=0) * (sides[0] / steps[0]), float(pressure.max())


def slices(tilt: float) -> tuple[np.ndarray, np.ndarray, float]:
    """The same by slices, the trunnion as deep as the force wants."""
    row = Row(NEEDLES)

    def carried(deep: float) -> np.ndarray:
        force, _ = row.carried(np.array([[deep, 0.0]]), np.array([[tilt, 0.0]]), np.zeros((1, 1)))
        return force[0, 0]

    low, high = 0.0, 0.1
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if carried(middle).sum() < FORCE else (low, middle)
    force = carried(low)
    return row.along, force / row.width, float(row.pressure(force).max())


def moment(along: np.ndarray, line: np.ndarray) -> float:
    return float((along * line).sum() * (along[1] - along[0]))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("tilt", "of_line", "of_pressure", "of_moment"),
    [(0.0, 0.01, 0.005, 0.0), (0.5, 0.03, 0.015, 0.04), (2.0, 0.10, 0.05, 0.05)],
)
def test_a_relieved_needle_straight_and_tilted(tilt, of_line, of_pressure, of_moment):
    """Slices do not hold each other up, so under tilt they are softer: by what is stated here."""
    places, line, pressure = half_space(0.5 * tilt * MRAD)
    along, ours, peak = slices(tilt * MRAD)
    assert line.sum() * (places[1] - places[0]) == pytest.approx(FORCE, rel=1e-6)
    assert ours.max() == pytest.approx(line.max(), rel=of_line)
    assert peak == pytest.approx(pressure, rel=of_pressure)
    assert moment(along, ours) == pytest.approx(moment(places, line), rel=of_moment, abs=1e-2)


@pytest.mark.slow
def test_far_from_its_ends_a_needle_is_a_line_contact():
    """Hertz, from the half space's own load a mm there: what every slice's pressure is made of."""
    places, line, most = half_space(0.0)
    here = float(line[np.argmin(np.abs(places))])
    row = Row(NEEDLES)
    ours = row.pressure(np.full(row.count, here * row.width))[0]
    assert ours == pytest.approx(hertz_line(here, 1.0, RADIUS, TOGETHER), rel=1e-12)
    top = float(row.pressure(np.full(row.count, float(line.max()) * row.width))[0])
    assert top == pytest.approx(most, rel=5e-3)
