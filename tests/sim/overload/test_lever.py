"""Bind as a lever: every limit by hand, and the force on every member."""

from dataclasses import replace
from math import inf, pi, radians

import pytest

from sim.overload.lever import lever, pried
from sim.parts.tube_section import TubeSection
from sim.strength import StrengthError, joint_load, joint_members
from tests.sim.strength.parts import TUBE, joint

SECTION = TubeSection.of_wall(76.2, 2.1)
USUAL = {"length": 1000.0, "arm": 45.0, "past": radians(1.0), "weight": 2200.0, "bends_by": 2e-3}


def forced(**values: float):
    return lever(joint(), (SECTION, TUBE), **(USUAL | values))


def test_each_limit_by_hand() -> None:
    stiff = 3.0 * 206_800.0 * pi / 64.0 * (76.2**4 - 72.0**4) * radians(1.0) / 1000.0
    found = forced()
    assert found.by_shaft == pytest.approx(stiff, rel=1e-12)
    assert found.by_weight == pytest.approx(2200.0 / 2e-3, rel=1e-12)
    assert found.by_tube == pytest.approx(450.0 * pi * (76.2**4 - 72.0**4) / 32.0 / 76.2, rel=1e-12)
    assert (found.limit, found.moment) == ("weight", found.by_weight)


@pytest.mark.parametrize(
    ("values", "limit"),
    [
        ({"weight": inf}, "shaft"),
        ({"bends_by": 0.0}, "shaft"),
        ({"weight": inf, "past": radians(3.0)}, "tube"),
        ({"weight": 100.0}, "weight"),
    ],
)
def test_the_least_of_them_counts(values: dict[str, float], limit: str) -> None:
    found = forced(**values)
    assert found.limit == limit
    assert found.moment == min(found.by_shaft, found.by_weight, found.by_tube)


def test_the_yokes_hold_it_over_their_arm_and_each_cap_gets_half() -> None:
    found = forced()
    assert found.prying * found.arm == pytest.approx(found.moment, rel=1e-12)
    assert 2.0 * found.cap_force == pytest.approx(found.prying, rel=1e-12)
    end = joint()
    short, *rest = end.yokes
    longer = replace(short, ear=replace(short.ear, root_at=1.5 * short.ear.root_at))
    other = lever(replace(end, yokes=(longer, *rest)), (SECTION, TUBE), **USUAL)
    assert other.ear_moment == pytest.approx(1.5 * found.ear_moment, rel=1e-12)
    assert found.trunnion_moment == pytest.approx(found.cap_force * end.trunnion.lever, rel=1e-12)
    longest = max(yoke.ear.root_at for yoke in end.yokes)
    assert found.ear_moment == pytest.approx(found.cap_force * longest, rel=1e-12)


def test_every_member_gets_that_force() -> None:
    """Trunnions, caps and rings as of torque with the same cap force; roots and straps pulled."""
    end, force = joint(), 24e3
    found = {member.name: member for member in pried(end, 2.0 * force)}
    straight = joint_load(2.0 * force * end.trunnion.arm, 0.0, end.trunnion.arm)
    same = {member.name: member for member in joint_members(end, straight)}
    pushed = [name for name in found if "trunnion" in name or "bore" in name]
    assert len(pushed) == 6
    for name in pushed:
        assert found[name].stress == pytest.approx(same[name].stress, rel=1e-12)
    for yoke in end.yokes:
        root = found[f"{yoke.name}: ear at its root, bending and pull"]
        section = yoke.ear.thickness * yoke.ear.root_width
        assert root.stress == pytest.approx(force / section, rel=1e-12)
    assert found["strap yoke: cap on its seat, held by straps or bolts"].stress == force
    assert not any("flange" in name and "cap" in name for name in found if "bore" not in name)


def test_farther_past_touch_is_worse_until_something_gives() -> None:
    moments = [forced(weight=inf, past=radians(p)).moment for p in (0.0, 0.3, 0.6, 1.0, 3.0, 4.0)]
    assert moments[0] == 0.0
    assert moments[:5] == sorted(set(moments[:5]))
    assert moments[4] == moments[5]


@pytest.mark.parametrize("name", ["arm", "length", "past", "weight", "bends_by"])
def test_what_is_no_lever(name: str) -> None:
    with pytest.raises(StrengthError, match=name.replace("_", " ")):
        forced(**{name: -1.0})
