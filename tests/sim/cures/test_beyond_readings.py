"""A suspension that was not read as far as it travels: cures are judged as a check judges."""

import pytest

from sim.assessment import Assessor
from sim.check import check
from sim.cures import Cures, find_cures
from sim.derive import vehicle_of
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.demos import load_demo
from tests.kept import kept

DEEP = {
    "shaft.pinion_end.pinion_yoke": "deep-throat strap yoke",
    "shaft.pinion_end.shaft_yoke": "deep-throat weld yoke",
    "travel.roll": "0 deg",
    "travel.nose_up": "0 deg",
    "travel.nose_down": "0 deg",
}
"""With these nothing touches in the marsh runner, which was read from 7 in droop to 4 in bump."""


def marsh(droop: str, bump: str, clear: bool) -> Rig:
    further = {"travel.droop": droop, "travel.bump": bump}
    return changed(load_demo("marsh-runner"), further | (DEEP if clear else {}))


@kept
def cures_of(droop: str, bump: str, clear: bool) -> Cures:
    return find_cures(marsh(droop, bump, clear))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("droop", "bump", "codes"),
    [
        ("7 1/2 in", "4 in", ["limit-straps"]),
        ("7 in", "5 in", ["bump-stops"]),
        ("7 1/2 in", "5 in", ["bump-stops", "limit-straps"]),
    ],
)
def test_where_nothing_else_is_wrong_less_travel_is_the_only_cure(
    droop: str, bump: str, codes: list[str]
) -> None:
    """It ends the travel where the readings end, and a check of it is clear."""
    found = cures_of(droop, bump, clear=True)
    assert found.before.held == "clear"
    assert found.before.verdict == check(found.rig).verdict == "close"
    (cure,) = found.cures
    assert cure.works
    assert sorted(cure.codes) == codes
    assert check(cure.rig).verdict == "clear"
    low, high = vehicle_of(found.rig).suspension.range() or (0.0, 0.0)
    travel = cure.rig.travel
    kept = {"limit-straps": travel.droop.mm + low, "bump-stops": travel.bump.mm - high}
    assert [kept[code] for code in codes] == pytest.approx([0.0] * len(codes), abs=1e-6)


@pytest.mark.slow
def test_a_cure_has_the_verdict_of_a_check_where_it_goes_beyond_the_readings() -> None:
    """It works by what it does to the joints; the verdict and the numbers tell what it rests on."""
    found = cures_of("8 in", "5 in", clear=False)
    assert found.before.verdict == check(found.rig).verdict == "touches"
    working = [cure for cure in found.cures if cure.works]
    assert working
    for cure in working[:2]:
        again = check(cure.rig)
        beyond = [f.margin.value for f in again.findings if f.code == "beyond-readings"]
        assert again.verdict == cure.after.verdict
        assert cure.after.beyond == pytest.approx(-sum(beyond), abs=1e-9)
    assert all((c.after.verdict == "clear") == (c.after.beyond == 0.0) for c in working)


def test_readings_to_the_end_of_the_travel_leave_nothing_to_say() -> None:
    rig = marsh("7 in", "4 in", clear=True)
    outcome = Assessor().assess(rig)
    assert outcome.beyond == 0.0
    assert outcome.verdict == outcome.held == check(rig).verdict == "clear"
