"""The best aim of the pinion: told where joints are short, and with its price."""

from math import radians

import pytest

from sim.assessment import Assessor
from sim.cures.aim import Aim, AimCurve
from sim.cures.remedies.pinion import pinion_turned
from sim.rig import Rig, load_demo
from viewer.words.aim import aim_says, joints_short


def curve_of(rig: Rig, turn: float) -> AimCurve:
    """The rig as it is, and turned so far (rad, nose up), which comes out the smoother."""
    asked = Assessor()
    aims = (
        Aim(each, each, 0.1 - 0.1 * (each > 0.0), 0.0, asked.assess(turned))
        for each, turned in ((0.0, rig), (turn, pinion_turned(rig, turn)))
    )
    return AimCurve(tuple(aims))


@pytest.mark.parametrize(
    ("name", "short"), [("long-legged-trail-wagon", True), ("goat-path-buggy", False)]
)
def test_it_is_told_where_a_joint_has_less_than_is_wanted(name: str, short: bool) -> None:
    found = Assessor().assess(load_demo(name))
    assert joints_short(found) == short
    assert (min(found.margins.values()) < found.reserve) == short


def test_its_price_is_told() -> None:
    """Caster on a front axle by as much as it is turned, and that it shakes sooner."""
    rig = load_demo("goat-path-buggy")
    says = aim_says(rig, curve_of(rig, radians(10.0)))
    assert "nose up 10 deg" in says
    assert " Downside: " in says
    assert "costs 10.0 deg of caster" in says
    assert "shakes sooner: " in says
    wagon = load_demo("long-legged-trail-wagon")
    assert "caster" not in aim_says(wagon, curve_of(wagon, radians(8.0)))
