"""A slip that does not fit between the yokes is told by a check, whatever else is clear.

By a tape measure's sums: the shaft from joint to joint, less each yoke from its cross to its weld,
is what slip and tube have together.
"""

import pytest

from sim.check import Check, check
from sim.cures import find_cures
from sim.derive import ride_height_of
from sim.findings import Finding
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.ticket.slips import slip_parts
from tests.kept import kept

NAME = "timber-crew-carrier"


@kept
def plain() -> Check:
    return check(load_demo(NAME))


def room() -> float:
    """Between the weld lands of the rear section, mm."""
    lands = plain().joints["middle"].hardware.driven, plain().joints["pinion"].hardware.driving
    return ride_height_of(load_demo(NAME)).length - sum(yoke.tube_from or 0.0 for yoke in lands)


def told(rig: Rig) -> list[Finding]:
    return [each for each in check(rig).findings if each.code == "no-room-for-slip"]


def pushed_home(mm: float) -> Rig:
    return changed(load_demo(NAME), {"shaft.slip.pushed_home": f"{mm:.3f} mm"})


def test_a_shaft_with_room_says_nothing_of_it() -> None:
    assert plain().verdict == "clear"
    assert not [each for each in plain().findings if each.code == "no-room-for-slip"]


@pytest.mark.parametrize("over", [-0.1, 0.1])
def test_a_slip_fits_up_to_what_the_yokes_leave(over: float) -> None:
    closes = load_demo(NAME).shaft.slip.closes.mm
    found = told(pushed_home(room() - closes + over))
    assert bool(found) == (over > 0.0)
    for each in found:
        assert each.verdict == "touches"
        assert each.margin.value == pytest.approx(-over, abs=1e-3)
        assert each.limit.value == pytest.approx(room(), abs=1e-6)


def test_a_stroke_that_no_slip_of_this_length_has_is_close_where_a_shorter_one_does() -> None:
    """Described with far more stroke than the travel asks, so that only its own shape is long."""
    rig = load_demo(NAME)
    stroke = f"{0.5 * room():.1f} mm"
    keys = ("closes", "opens", "comes_apart")
    found = told(changed(rig, {f"shaft.slip.{key}": stroke for key in keys}))
    assert [each.verdict for each in found] == ["close"]
    assert min(part.pushed_home for part in slip_parts(rig)) < room()


def test_cures_say_so_too_where_all_else_is_clear() -> None:
    found = find_cures(pushed_home(room()))
    assert found.before.verdict == "clear"
    assert found.stops
    assert [each.code for each in found.beside] == ["no-room-for-slip"]
    assert not find_cures(load_demo(NAME)).stops


@pytest.mark.slow
def test_a_cheap_remedy_that_cannot_be_built_hides_no_other() -> None:
    """Straps alone would do for the bend, but only a longer shaft then has room for its slip."""
    joint = ["24 in", "0 in", "8 1/2 in"]
    rig = changed(load_demo("ridge-crawler"), {"output.joint": joint})
    out = ("output-drop", "pinion-turn", "double-cardan-head", "other-size")
    found = find_cures(rig, without=out)
    assert found.beside
    assert any(cure.works and "longer-shaft" in cure.codes for cure in found.cures)
    assert not any(cure.works and cure.stops for cure in found.cures)


@pytest.mark.slow
def test_nothing_that_cannot_be_built_is_called_a_cure() -> None:
    rig = changed(load_demo("long-legged-trail-wagon"), {"shaft.slip.pushed_home": "48 in"})
    found = find_cures(rig)
    still = [cure for cure in found.cures if cure.beside]
    assert any(cure.after.held == "clear" for cure in still)
    assert not any(cure.works for cure in still)
