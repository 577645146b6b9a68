"""Torque a shaft is sized for: which governs, shock, what is refused."""

from dataclasses import replace
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sim.sizing import ABRUPT, SMOOTH, Axle, Drive, SizingError, shaft_torque
from sim.wrap.estimate import Estimate

exactly = Estimate.exactly
DRIVE = Drive(exactly(300e3), 3.8, 2.7)
AXLE = Axle(exactly(9000.0), exactly(0.8), 400.0, 4.1)


@given(engine=st.floats(1e4, 1e6), load=st.floats(1e3, 5e4))
def test_the_lesser_governs_on_the_road(engine, load):
    found = shaft_torque(replace(DRIVE, engine=exactly(engine)), replace(AXLE, load=exactly(load)))
    assert found.steady.value == min(found.low_gear.value, found.wheel_slip.value)
    assert (found.governs == "low gear") == (found.low_gear.value <= found.wheel_slip.value)
    assert found.why
    assert found.peak == found.steady


@given(engine=st.floats(1e4, 1e6), load=st.floats(1e3, 5e4))
def test_low_gear_governs_on_the_trail(engine, load):
    drive, axle = replace(DRIVE, engine=exactly(engine)), replace(AXLE, load=exactly(load))
    found = shaft_torque(drive, axle, use="trail", shock=ABRUPT)
    assert found.governs == "low gear"
    assert found.steady == found.low_gear
    assert found.peak.value == pytest.approx(2.0 * found.steady.value, rel=1e-14)


@given(factor=st.floats(1.0, 4.0))
def test_in_proportion_to_every_ratio(factor):
    base = DRIVE.torque.value
    for name in ("gear", "low_range", "converter"):
        told = replace(DRIVE, **{name: getattr(DRIVE, name) * factor}).torque.value
        assert told == pytest.approx(factor * base, rel=1e-12)
    assert replace(AXLE, ratio=4.1 * factor).torque.value == pytest.approx(
        AXLE.torque.value / factor, rel=1e-12
    )


def test_doubt_is_carried():
    wide = replace(AXLE, grip=Estimate(0.8, 0.6, 1.0))
    found = shaft_torque(DRIVE, wide)
    assert found.wheel_slip.low == pytest.approx(0.75 * found.wheel_slip.value)
    close = replace(DRIVE, engine=exactly(DRIVE.engine.value * 0.99 * found.wheel_slip.value
                                          / found.low_gear.value))  # fmt: skip
    assert [flag.code for flag in shaft_torque(close, wide).flags] == ["governs-in-doubt"]


def test_a_shared_drive_is_told():
    found = shaft_torque(replace(DRIVE, share=0.5), AXLE)
    assert found.low_gear.value == pytest.approx(0.5 * DRIVE.torque.value, rel=1e-14)
    assert [flag.code for flag in found.flags] == ["share-counts"]


def test_torque_all_at_once_swings_to_twice():
    """An undamped wheel on a shaft: I x'' + k x = T from rest, integrated by SciPy."""
    k, inertia, torque = 4e7, 2e5, 1e6
    # kg mm2 rad/s2 is 1e-3 N mm.
    swing = solve_ivp(
        lambda _, y: [y[1], 1e3 * (torque - k * y[0]) / inertia],
        (0.0, 2.0 * pi * (inertia / (1e3 * k)) ** 0.5),
        [0.0, 0.0],
        rtol=1e-10,
        atol=1e-13,
        dense_output=True,
        max_step=1e-4,
    )
    assert k * swing.y[0].max() == pytest.approx(ABRUPT * torque, rel=1e-4)


@pytest.mark.parametrize(
    "made",
    [
        lambda: replace(DRIVE, gear=0.0),
        lambda: replace(DRIVE, engine=exactly(-1.0)),
        lambda: replace(DRIVE, share=1.2),
        lambda: replace(DRIVE, case_efficiency=0.0),
        lambda: replace(AXLE, ratio=float("nan")),
        lambda: replace(AXLE, efficiency=2.0),
        lambda: shaft_torque(DRIVE, AXLE, shock=0.9),
        lambda: shaft_torque(DRIVE, AXLE, use="moon"),
    ],
)
def test_no_such_drive(made):
    with pytest.raises(SizingError, match="expected"):
        made()
    assert SMOOTH == 1.0
