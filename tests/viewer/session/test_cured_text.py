"""A saved cure: what was typed stays as typed, what was assumed stays assumed."""

from collections.abc import Iterator

import numpy as np
import pytest

from geometry.errors import BindpointError
from sim.assessment.glance import glance
from sim.check import check
from sim.cures import REMEDIES, Cure, find_cures
from sim.cures.remedy import Case, Dose, Remedy, Trial
from sim.derive import vehicle_of
from sim.rig import Rig, load_demo, parse_rig
from sim.rig.demos import demo_names, demo_text
from sim.table.default import at
from viewer.session.cures.text import cured_as_typed, cured_text
from viewer.session.text.retyping import retyped

PHONE = """
# As told over the telephone.
[output]
points_down = "3 deg"      # by a digital level

[ride_height]
shaft_points_down = "14 deg"   # a phone on the tube
{length}

[axle]
points_up = "1 deg"  # nose up

[travel]
bump = "4 in"
droop = "8 in"  # to the shocks' ends
"""

LENGTH = 'length = "36 5/16 in"  # by tape'
TAPE = 'tape = { reads = "38 3/4 in", at_output = "flange face", at_pinion = "joint centre" }'


def doses(remedy: Remedy, rig: Rig) -> Iterator[Dose]:
    """A dose from the middle of every series, of three of them."""
    for series in remedy.doses(rig)[:3]:
        yield series[len(series) // 2]


def cured(text: str, remedy: Remedy, dose: Dose) -> tuple[Rig, Rig, Rig, str] | None:
    """Original, cured and saved rig, and the saved text; None where the dose cannot be."""
    rig = parse_rig(text)
    try:
        made = remedy.applied(rig, dose)
        vehicle_of(made)
    except BindpointError:
        return None
    cure = Cure((Trial(remedy, Case(rig, dose, made, None, None)),), 0.0, works=True)  # type: ignore[arg-type]
    typed, by = cured_as_typed(rig, cure)
    saved = retyped(text, typed, by)
    return rig, made, parse_rig(saved), saved


def whole(rig: Rig) -> object:
    return rig.model_dump(mode="json", by_alias=True)


def nothing_assumed_becomes_typed(rig: Rig, made: Rig, saved: Rig) -> None:
    """Only what the remedy changed is no longer assumed; nothing new is."""
    before = {each.key: each.value for each in rig.assumed}
    after = {each.key: each.value for each in saved.assumed}
    for key in set(before) - set(after):
        assert at(whole(made), key) != at(whole(rig), key), key
    assert {key: after[key] for key in after} == {key: before[key] for key in after}


def lines_stand(text: str, saved: str, name: str) -> int:
    """Every line stands in its order, byte for byte, or has a new value and says whose it is.

    How many are new.
    """
    old, new = text.splitlines(), saved.splitlines()
    untouched = [line for line in new if f"cure: {name}" not in line]
    rest = iter(old)
    assert all(line in rest for line in untouched if line), "in order, byte for byte"
    remarks = [line.split("#", 1)[1].strip() for line in old if "#" in line]
    gone = [each for each in remarks if each not in saved]
    assert not gone or name == "anti wrap bar", gone
    return len(new) - len(untouched)


def moves_alike(made: Rig, saved: Rig) -> None:
    """The saved file is the vehicle that the remedy was judged by."""
    one, other = glance(vehicle_of(made)), glance(vehicle_of(saved))
    for joint, bend in one.bends.items():
        assert other.bends[joint] == pytest.approx(bend, abs=1e-5)
    assert other.shortest == pytest.approx(one.shortest, abs=0.01)
    assert other.longest == pytest.approx(one.longest, abs=0.01)
    slips = vehicle_of(made).slip, vehicle_of(saved).slip
    assert slips[1].closes == pytest.approx(slips[0].closes, abs=0.01)
    assert slips[1].opens == pytest.approx(slips[0].opens, abs=0.01)


@pytest.mark.slow
@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda remedy: remedy.code)
def test_every_remedy_on_every_demo_leaves_the_rest_of_the_file(remedy: Remedy) -> None:
    """Nine demos, every remedy, every way of it."""
    tried = 0
    for name in demo_names():
        text = demo_text(name)
        for dose in doses(remedy, load_demo(name)):
            found = cured(text, remedy, dose)
            if found is None:
                continue
            rig, made, saved, said = found
            nothing_assumed_becomes_typed(rig, made, saved)
            assert lines_stand(text, said, remedy.code.replace("-", " ")) > 0
            moves_alike(made, saved)
            tried += 1
    assert tried > 0


@pytest.mark.slow
@pytest.mark.parametrize("length", [LENGTH, TAPE], ids=["length", "tape"])
@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda remedy: remedy.code)
def test_a_telephone_call_stays_one(remedy: Remedy, length: str) -> None:
    """Once every cure but straps made coordinates of a taped length, and facts of 8 assumptions."""
    text = PHONE.format(length=length)
    for dose in doses(remedy, parse_rig(text)):
        found = cured(text, remedy, dose)
        if found is None:
            continue
        rig, made, saved, said = found
        assert saved.output.joint is None
        assert saved.axle.pinion_joint is None
        assert saved.ride_height is not None
        assert rig.ride_height is not None
        assert (saved.ride_height.tape is None) == (rig.ride_height.tape is None)
        nothing_assumed_becomes_typed(rig, made, saved)
        lines_stand(text, said, remedy.code.replace("-", " "))
        moves_alike(made, saved)


def test_a_slip_nobody_measured_is_not_measured_by_a_cure() -> None:
    """A turned pinion moves the slip of a shaft; of one that was assumed nothing is known."""
    text = PHONE.format(length=LENGTH)
    turn = next(each for each in REMEDIES if each.code == "pinion-turn")
    found = cured(text, turn, Dose(np.radians(4.0), "up"))
    assert found is not None
    rig, _, saved, _ = found
    assert {"shaft.slip.closes", "shaft.slip.opens"} <= {each.key for each in saved.assumed}
    assert len(saved.assumed) == len(rig.assumed)


def test_a_nose_that_goes_through_level_keeps_its_line_and_remark() -> None:
    """points_down gives way to points_up where it stood."""
    text = demo_text("marsh-runner")
    turn = next(each for each in REMEDIES if each.code == "pinion-turn")
    found = cured(text, turn, Dose(np.radians(4.0), "up"))
    assert found is not None
    place = [line.startswith("points_down") for line in text.splitlines()].index(True, 12)
    line = found[3].splitlines()[place]
    assert line.startswith('points_up = "2 deg"')
    assert "set low, since it climbs" in line
    assert line.endswith("cure: pinion turn, was points_down 2 deg")


def test_a_bar_keeps_what_the_wrap_table_said_of_the_drive() -> None:
    """The table gives way to degrees; the ticket still needs engine, gears and tyres."""
    bar = next(each for each in REMEDIES if each.code == "anti-wrap-bar")
    rig = load_demo("quarry-hauler")
    made = bar.applied(rig, Dose(1.0))
    assert rig.wrap is not None
    assert made.wrap is None
    assert made.drive is not None
    assert made.drive.engine_torque == "340 lb-ft"
    assert made.drive.use == "road"


@pytest.mark.slow
def test_a_pair_says_of_each_value_whose_it_is() -> None:
    text = demo_text("long-legged-trail-wagon")
    found = find_cures(parse_rig(text))
    cure = next(each for each in found.cures if each.codes == ("pinion-turn", "limit-straps"))
    said = cured_text(found, cure, text)
    by_key = {line.split(" ")[0]: line for line in said.splitlines() if "cure: " in line}
    assert by_key["droop"].endswith("cure: limit straps, was 9 in")
    assert "cure: pinion turn" in by_key["points_up"]
    result = check(parse_rig(said))
    for joint, margin in cure.after.margins.items():
        assert result.joints[joint].margin == pytest.approx(margin, abs=2e-5)
