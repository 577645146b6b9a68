"""Cardan joints against printed and independently computed numbers.

Each table names its source; how far each was seen is told on the project's references page.
"""

import numpy as np
import pytest

from sim.cardan import (
    acceleration,
    angle_of_greatest_acceleration,
    chain,
    greatest_acceleration,
)

# bend deg, greatest and least ratio, U %, greatest lead deg, greatest acceleration, its angle deg.
# Computed apart from this code, from the formulas in double precision. The ratio columns are those
# a handbook prints for a unit driving speed [CARVILL, 2.4.3].
TABLE = [
    (1, 1.000152, 0.999848, 0.0305, 0.00436, 0.000305, 44.9913),
    (3, 1.001372, 0.998630, 0.2743, 0.03929, 0.002743, 44.9214),
    (5, 1.003820, 0.996195, 0.7625, 0.10922, 0.007625, 44.7816),
    (8, 1.009828, 0.990268, 1.9560, 0.28016, 0.019561, 44.4398),
    (10, 1.015427, 0.984808, 3.0619, 0.43856, 0.030626, 44.1232),
    (12, 1.022341, 0.978148, 4.4193, 0.63295, 0.044215, 43.7351),
    (15, 1.035276, 0.965926, 6.9350, 0.99312, 0.069434, 43.0176),
    (18, 1.051462, 0.951057, 10.0406, 1.43745, 0.100658, 42.1367),
    (20, 1.064178, 0.939693, 12.4485, 1.78168, 0.124966, 41.4587),
    (22, 1.078535, 0.927184, 15.1351, 2.16536, 0.152213, 40.7086),
    (25, 1.103378, 0.906308, 19.7070, 2.81714, 0.198965, 39.4510),
    (30, 1.154701, 0.866025, 28.8675, 4.11719, 0.294571, 37.0215),
    (35, 1.220775, 0.819152, 40.1623, 5.70539, 0.417232, 34.2281),
    (37.5, 1.260472, 0.793353, 46.7119, 6.61684, 0.491396, 32.7216),
    (40, 1.305407, 0.766044, 53.9363, 7.61260, 0.576215, 31.1590),
    (45, 1.414214, 0.707107, 70.7107, 9.87928, 0.787200, 27.9184),
]


@pytest.mark.parametrize("row", TABLE, ids=lambda row: f"{row[0]} deg")
def test_the_handbook_table(row):
    bend, turned = np.radians(row[0]), chain(planar(0.0, row[0]))
    found = [
        turned.speed_ratio.max(),
        turned.speed_ratio.min(),
        100.0 * np.ptp(turned.speed_ratio),
        np.degrees(turned.lead_amplitude),
        greatest_acceleration(bend),
        np.degrees(angle_of_greatest_acceleration(bend)),
    ]
    for got, printed, digits in zip(found, row[1:], (6, 6, 4, 5, 6, 4), strict=True):
        assert abs(float(got) - printed) <= 0.5001 * 10.0**-digits


def test_nonuniformity_at_three_degrees_is_the_usual_goal():
    """U <= 0.0027, a cardan-shaft technical page: 3 deg give 0.002743."""
    swing = np.ptp(chain(planar(0.0, 3.0)).speed_ratio)
    assert swing == pytest.approx(0.002743, abs=5e-7)


class TestKhurmiGupta:
    """Worked examples of a textbook [KHURMI-GUPTA, ch. 9].

    Read in a public copy with the printed results; the second number of each pair is
    the same in full precision.
    """

    def test_example_9_2_greatest_acceleration(self):
        w = 1500 * 2 * np.pi / 60
        alpha = w**2 * float(greatest_acceleration(np.radians(20.0)))
        assert alpha == pytest.approx(3080, rel=0.002)
        assert alpha == pytest.approx(3083.402, abs=6e-4)
        assert 0.12 * alpha == pytest.approx(370, abs=0.5)
        assert 0.12 * alpha == pytest.approx(370.008, abs=6e-4)

    def test_example_9_3_equal_speeds(self):
        """Both turn alike at 44.28 deg; the copy prints 43.2, having typed arccos as cos."""
        turned = chain(planar(0.0, 18.0), samples=3600)
        at = np.degrees(np.interp(-1.0, -turned.speed_ratio[:900], turned.angle[:900]))
        assert at == pytest.approx(44.2813, abs=6e-5)

    def test_examples_9_4_and_9_5_bends_for_a_speed_swing(self):
        """9.4: 19.64 deg for 12 %. 9.5: 16.4 deg for 100 of 1200 rpm, 1251 and 1151."""
        assert np.ptp(chain(planar(0.0, 19.64420)).speed_ratio) == pytest.approx(0.12, abs=2e-7)
        turned = 1200 * chain(planar(0.0, 16.42291)).speed_ratio
        assert np.ptp(turned) == pytest.approx(100.0, abs=2e-4)
        assert turned.max() == pytest.approx(1251.041, abs=6e-4)
        assert turned.min() == pytest.approx(1151.041, abs=6e-4)

    def test_example_9_6_torque_at_an_eighth_of_a_turn(self):
        w, bend = 240 * 2 * np.pi / 60, np.radians(20.0)
        alpha = w**2 * float(acceleration(np.radians(45.0), bend))
        assert alpha == pytest.approx(-78.3282, abs=6e-5)
        inertia = 55 * 0.15**2
        driving = (200 + inertia * alpha) * chain(planar(0.0, 20.0)).speed_ratio[90]
        assert driving == pytest.approx(102.7, abs=0.2)
        assert driving == pytest.approx(102.8698, abs=6e-5)
        allowed = np.ptp(chain(planar(0.0, 17.96424)).speed_ratio)
        assert allowed == pytest.approx(24 / 240, abs=2e-7)

    def test_example_9_7_two_joints_a_quarter_turn_wrong(self):
        one = chain(planar(0, 20), samples=720)
        both = chain(planar(0, 20, 40), [np.pi / 2], samples=720)
        assert 500 * one.speed_ratio.max() == pytest.approx(532.0889, abs=6e-5)
        assert 500 * one.speed_ratio.min() == pytest.approx(469.8463, abs=6e-5)
        assert 500 * both.speed_ratio.max() == pytest.approx(566.2372, abs=6e-5)
        assert 500 * both.speed_ratio.min() == pytest.approx(441.5111, abs=6e-5)


def planar(*headings):
    a = np.radians(np.array(headings, dtype=float))
    return np.stack([np.cos(a), np.zeros_like(a), np.sin(a)], axis=-1)


def sloped(*pitch_and_yaw):
    """Directions (1, tan yaw, tan pitch), deg."""
    return np.array([(1.0, np.tan(np.radians(q)), np.tan(np.radians(p))) for p, q in pitch_and_yaw])


# Exact vector chains, computed apart from this code.
# axes, phases deg, half amplitude of the lead deg, acceleration, small-angle rule rad^2
CHAINS = {
    "8 and 5 in phase": (planar(0, 8, 3), [0], 0.17094, 0.011935, 0.011880),
    "10 and 7 in phase": (planar(0, 10, 3), [0], 0.22423, 0.015655, 0.015535),
    "20 and 15 in phase": (planar(0, 20, 5), [0], 0.78877, 0.055117, 0.053308),
    "25 and 24 in phase": (planar(0, 25, 1), [0], 0.22787, 0.015910, 0.014926),
    "8 and 5 a quarter turn out": (planar(0, 8, 3), [90], 0.38938, 0.027190, 0.027111),
    "10 and 10, 1 out": (planar(0, 10, 0), [1], 0.01531, 0.0010687, 0.0010633),
    "10 and 10, 5 out": (planar(0, 10, 0), [5], 0.07645, 0.0053373, 0.0053098),
    "10 and 10, 10 out": (planar(0, 10, 0), [10], 0.15232, 0.0106342, 0.0105793),
    "10 and 10, 22.5 out": (planar(0, 10, 0), [22.5], 0.33567, 0.0234383, 0.0233144),
    "3, 4, 5, second shaft out": (planar(0, 3, 7, 12), [0, 90], 0.13980, 0.0097604, 0.0097478),
    "3, 4, 5, in phase": (planar(0, 3, 7, 12), [0, 0], 0.07864, 0.0054901, 0.0054831),
    "in space": (sloped((-3, 0), (-12, 4), (2, 0)), [0], 0.53802, 0.0375772, 0.0370043),
}


@pytest.mark.parametrize("name", CHAINS)
def test_the_exact_chains(name):
    axes, phases, amplitude, alpha, rule = CHAINS[name]
    found = chain(axes, list(np.radians(phases)))
    assert np.degrees(found.lead_amplitude) == pytest.approx(amplitude, abs=5.1e-6)
    digits = 7 if len(repr(alpha)) > 8 else 6
    assert found.greatest_acceleration == pytest.approx(alpha, abs=0.51 * 10.0**-digits)
    assert found.equivalent_angle**2 == pytest.approx(rule, abs=0.51 * 10.0**-digits)


@pytest.mark.parametrize("axes", [planar(0, 10, 0), planar(0, 10, 20)], ids=["Z", "W"])
def test_equal_bends_in_phase_cancel(axes):
    found = chain(axes)
    assert found.lead_amplitude < 1e-12
    assert found.greatest_acceleration < 1e-10


def test_the_bends_in_space():
    """Computed apart: 9.80736 and 14.52599 deg."""
    bends = np.degrees(chain(sloped((-3, 0), (-12, 4), (2, 0))).bends)
    np.testing.assert_allclose(bends, [9.80736, 14.52599], rtol=0, atol=5.1e-6)


def test_the_speed_flutter_of_one_joint():
    """Common practice, derived by hand: 5 deg 0.4 %, 10 1.5, 15 3.5, 20 6, 25 10, 30 15."""
    bends = [5, 10, 15, 20, 25, 30]
    flutter = [100 * (chain(planar(0.0, bend)).speed_ratio.max() - 1.0) for bend in bends]
    for got, printed, digits in zip(
        flutter, [0.4, 1.5, 3.5, 6, 10, 15], [1, 1, 1, 0, 0, 0], strict=True
    ):
        assert round(float(got), digits) == printed
