"""Notes on front axles: caster against the pinion, and hubs."""

from math import degrees
from types import SimpleNamespace
from typing import Any, cast

import pytest

from sim.cardan import Chain
from sim.derive import ride_height_of, vehicle_of
from sim.finders.front_axle import front_findings
from sim.findings import Finding
from sim.line import running
from sim.rests_on import Basis
from sim.rig import Rig, parse_rig
from tests.sim.rigs import COORDINATES, only_problem, problems, spoilt
from viewer.words.findings import says

FRONT = spoilt(
    COORDINATES,
    ('["47 in", "1 1/2 in", "9 in"]', '["-47 in", "1 1/2 in", "9 in"]'),
    ('["11 in", "0 in", "1/2 in"]', '["-11 in", "0 in", "1/2 in"]'),
    ('position = "rear"', 'position = "front"'),
)
"""The shaft points 13.3 deg down toward the axle; the pinion 1 deg up."""


def with_keys(lines: str) -> Rig:
    return parse_rig(spoilt(FRONT, ('points_up = "1 deg"', f'points_up = "1 deg"\n{lines}')))


def found(rig: Rig) -> dict[str, Finding]:
    vehicle = vehicle_of(rig)
    basis = Basis(rig, vehicle)
    seen = SimpleNamespace(rig=rig, running=running(vehicle), basis=basis)
    return {each.code: each for each in front_findings(cast(Any, seen))}


def test_nothing_is_said_where_nothing_is_known() -> None:
    assert found(parse_rig(FRONT)) == {}
    assert found(parse_rig(COORDINATES)) == {}


def test_aiming_the_pinion_along_the_shaft_takes_as_much_caster() -> None:
    """Own derivation: the shaft's slope in the side view, 13.29 deg, less that of the pinion."""
    rig = with_keys('caster = "5 deg"')
    note = found(rig)["caster"]
    aim = degrees(ride_height_of(rig).down) - 1.0
    assert aim == pytest.approx(12.29, abs=0.01)
    assert note.margin.value == pytest.approx(-aim, rel=1e-12)
    assert note.limit.value == pytest.approx(5.0, rel=1e-12)
    assert note.worst.value == pytest.approx(5.0 - aim, rel=1e-12)
    assert note.verdict == "clear"
    assert says(note) == (
        "To aim the pinion along the shaft at ride height: raising the pinion 12.3 degrees costs "
        "12.3 degrees of caster and leaves 7.3 degrees negative, unless the knuckles are cut and "
        "turned too. It works both ways: each degree of caster you gain drops the pinion a degree."
    )


def test_caster_may_be_negative() -> None:
    note = found(with_keys('negative_caster = "2 deg"'))["caster"]
    assert note.limit.value == pytest.approx(-2.0, rel=1e-12)


def test_hubs_decide_whether_the_angles_can_be_felt() -> None:
    rig = with_keys('hubs = "full-time"')
    chain: Chain = running(vehicle_of(rig))
    full = found(rig)["hubs"]
    unlock = found(with_keys('hubs = "unlock"'))["hubs"]
    like = degrees(chain.like_one_joint)
    assert full.worst.value == unlock.worst.value == pytest.approx(like, rel=1e-12)
    assert (full.verdict, unlock.verdict) == ("clear", "clear")
    assert "turns at road speed" in says(full)
    assert "common practice, no source" in says(full)
    assert f"a single joint bent {like:.1f} degrees. 3 degrees or less" in says(full)
    assert f"as a single joint bent {like:.1f} degrees, at ride height" in says(unlock)
    assert "stands still on the road" in says(unlock)
    assert "With them locked" in says(unlock)


@pytest.mark.parametrize(
    ("lines", "key", "expected"),
    [
        ('caster = "-5 deg"', "axle.caster", "negative_caster"),
        ('negative_caster = "90 deg"', "axle.negative_caster", "under 90 deg"),
        ('caster = "5 deg"\nnegative_caster = "5 deg"', "axle.negative_caster", "only-one-of"),
        ("caster = 5", "axle.caster", "an angle with its unit"),
        ('castor = "5 deg"', "axle.castor", "caster, the nearest known key"),
        ('hubs = "locking"', "axle.hubs", '"full-time" or "unlock"'),
    ],
)
def test_each_bad_value_gets_one_line(lines: str, key: str, expected: str) -> None:
    text = spoilt(FRONT, ('points_up = "1 deg"', f'points_up = "1 deg"\n{lines}'))
    problem = only_problem(text)
    assert problem.key == key
    assert expected in str(problem.expected)


def test_a_rear_axle_has_neither_and_is_told_of_both_at_once() -> None:
    lines = 'points_up = "1 deg"\ncaster = "5 deg"\nhubs = "unlock"'
    told = problems(spoilt(COORDINATES, ('points_up = "1 deg"', lines)))
    assert set(told) == {"axle.caster", "axle.hubs"}
    assert told["axle.caster"].came == '"5 deg"'
    assert all("the axle is a rear one" in each.why for each in told.values())
