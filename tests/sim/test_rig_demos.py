"""The demo rigs: invented vehicles with different answers."""

from math import radians
from pathlib import Path

import jsonschema
import pytest

from sim.check import check
from sim.derive import derive, vehicle_of
from sim.hardware.joint import joint_hardware
from sim.rig import (
    Rig,
    RigError,
    changed,
    demo_names,
    demo_text,
    json_schema,
    load_demo,
    load_rig,
    notes,
    parse_rig,
    rig_text,
)
from sim.search.envelope import Envelope, envelope
from sim.suspension import KINDS
from sim.table.reading import parse_toml

NAMES = demo_names()
"""The guide names the same: `tests/test_guide_page.py`."""
NO_WRAP = {"travel.nose_up": "0 deg", "travel.nose_down": "0 deg"}
NO_NOSE_DOWN = {"travel.nose_down": "0 deg"}


def limits(rig: Rig) -> tuple[float, float]:
    """Certified clear bend of the output and the pinion joint, rad."""
    output, pinion = (
        joint_hardware(rig, joint).touch().certified_clear for joint in ("output", "pinion")
    )
    return output, pinion


def room(rig: Rig) -> tuple[Envelope, float, float]:
    """The sweep, and the bend (rad) left at the output and the pinion joint."""
    output, pinion = limits(rig)
    swept = envelope(vehicle_of(rig))
    return (
        swept,
        output - swept.joints["output"].most.value,
        pinion - swept.joints["pinion"].most.value,
    )


def slip_left(swept: Envelope) -> float:
    return min(swept.slip.closes_left, swept.slip.opens_left)


@pytest.mark.parametrize("name", NAMES)
def test_each_says_that_it_is_invented_and_is_sound(name: str, tmp_path: Path) -> None:
    rig = load_demo(name)
    assert "invented for the purpose" in demo_text(name).splitlines()[0]
    assert "(invented)" in rig.name
    assert rig.note is not None
    assert rig.note.startswith("Invented for demonstration.")
    assert notes(rig) == ()
    jsonschema.validate(parse_toml(demo_text(name)), json_schema())
    assert parse_rig(rig_text(rig)) == rig
    path = tmp_path / "copy.toml"
    path.write_text(demo_text(name), encoding="utf-8")
    assert load_rig(path) == rig
    assert derive(rig).derived


def test_all_ways_in_and_all_suspensions_are_shown() -> None:
    rigs = [load_demo(name) for name in NAMES]
    assert {rig.suspension.kind for rig in rigs} == set(KINDS)
    assert {rig.axle.position for rig in rigs} == {"rear", "front"}
    assert {rig.shaft.slip.at for rig in rigs} == {"shaft", "output"}
    assert sum(rig.output.joint is None for rig in rigs) == 1


def test_an_unknown_demo() -> None:
    with pytest.raises(RigError, match="did you mean quarry-hauler"):
        load_demo("quarry-hawler")


@pytest.mark.slow
def test_the_quarry_hauler_is_clear_with_all_its_reserve() -> None:
    rig = load_demo("quarry-hauler")
    swept, output, pinion = room(rig)
    assert min(output, pinion) > rig.wanted.bend.rad
    assert slip_left(swept) > rig.wanted.slip.mm


@pytest.mark.slow
def test_the_trail_wagon_touches_at_droop_whatever_the_wrap() -> None:
    rig = load_demo("long-legged-trail-wagon")
    swept, _, pinion = room(changed(rig, NO_WRAP))
    assert pinion < -radians(2.0)
    assert swept.joints["pinion"].most.at.travel == pytest.approx(
        -rig.travel.droop.mm, rel=0.0, abs=1e-6
    )
    assert slip_left(swept) > rig.wanted.slip.mm
    _, output, pinion = room(changed(rig, {"travel.droop": "0 in"}))
    assert min(output, pinion) > 0.0


@pytest.mark.slow
def test_the_marsh_runner_touches_only_with_the_nose_down() -> None:
    rig = load_demo("marsh-runner")
    swept, output, pinion = room(rig)
    assert pinion < -radians(2.0)
    assert swept.joints["pinion"].most.at.wrap == pytest.approx(-rig.travel.nose_down.rad, abs=1e-9)
    assert output > rig.wanted.bend.rad
    assert slip_left(swept) > rig.wanted.slip.mm
    swept, output, pinion = room(changed(rig, NO_NOSE_DOWN))
    assert min(output, pinion) > rig.wanted.bend.rad
    assert slip_left(swept) > rig.wanted.slip.mm


@pytest.mark.slow
def test_the_goat_path_buggy_runs_out_of_slip_and_nothing_else() -> None:
    rig = load_demo("goat-path-buggy")
    swept, output, pinion = room(rig)
    assert min(output, pinion) > rig.wanted.bend.rad
    assert swept.slip.opens_left < -25.4
    assert swept.slip.closes_left > rig.wanted.slip.mm


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "verdict", "closest"),
    [
        ("ridge-crawler", "clear", "slip-closes"),
        ("river-bend-hauler", "clear", "slip-closes"),
        ("heather-moor-scout", "close", "slip-opens"),
    ],
)
def test_axles_on_links(name: str, verdict: str, closest: str) -> None:
    result = check(load_demo(name))
    assert result.verdict == verdict
    assert result.findings[0].code == closest
    assert result.found.swept.unreachable is None
