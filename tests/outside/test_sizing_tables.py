"""Torque a shaft is sized for, against sums worked apart and of the trade."""

import pytest

from sim.sizing import Axle, Drive, shaft_torque
from sim.wrap.estimate import Estimate

exactly = Estimate.exactly
POUND_FOOT, POUND, INCH = 1355.8179483, 4.4482216153, 25.4


def test_low_gear_and_wheel_slip():
    """Worked apart: 450 N m, 3.8, 2.72, 0.85: 3953.52 N m; 1600 kg, 0.85, 0.42 m, 4.10: 1366.70,
    1438.63 with 0.95; the wheels govern on the road."""
    drive = Drive(exactly(450e3), 3.8, 2.72, gearbox_efficiency=0.85, case_efficiency=1.0)
    for efficiency, slips in ((1.0, 1366.70), (0.95, 1438.63)):
        axle = Axle(exactly(1600.0 * 9.81), exactly(0.85), 420.0, 4.10, efficiency)
        found = shaft_torque(drive, axle)
        assert found.low_gear.value / 1e3 == pytest.approx(3953.52, abs=5e-3)
        assert found.wheel_slip.value / 1e3 == pytest.approx(slips, abs=5e-3)
        assert found.governs == "wheel slip"
        assert found.steady == found.wheel_slip


def test_a_sum_of_the_trade():
    """300 lb ft gross, 0.95 of it net, 3.06, 2.0 stall, automatic 0.8, 4:1, case 0.95: about 5300
    lb ft; 3500 lb, grip 0.71, 17.5 in, 4.56, 0.95: about 840 lb ft (common practice, no source).
    """
    drive = Drive(exactly(0.95 * 300.0 * POUND_FOOT), 3.06, 4.0, 2.0, 0.8, 0.95)
    axle = Axle(exactly(3500.0 * POUND), exactly(0.71), 17.5 * INCH, 4.56, 0.95)
    found = shaft_torque(drive, axle, use="trail")
    assert found.low_gear.value / POUND_FOOT == pytest.approx(5300.0, abs=50.0)
    assert found.wheel_slip.value / POUND_FOOT == pytest.approx(840.0, abs=5.0)
    short = 0.71 * 3500.0 * 17.5 / (11.4 * 4.56)
    assert found.wheel_slip.value / POUND_FOOT == pytest.approx(short, rel=1e-9)
    assert found.governs == "low gear"
