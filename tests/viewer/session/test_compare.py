"""What two versions say differently, and which of two answers is the better one."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.viewer.session.conftest import checked
from viewer.session.compare import Difference, answer_differences, typed_differences
from viewer.session.text.document import Document

WAGON = "long-legged-trail-wagon"


def by_label(lines: tuple[Difference, ...]) -> dict[str, Difference]:
    return {line.label: line for line in lines}


@pytest.mark.slow
@given(inches=st.integers(1, 20), deg=st.integers(0, 10))
def test_exactly_what_was_changed_is_told(inches: int, deg: int) -> None:
    document = Document.demo(WAGON)
    before = document.text
    assert typed_differences(before, before) == ()
    document.set({"travel.droop": f"{inches}.5 in", "wanted.bend": f"{deg} deg"})
    lines = typed_differences(before, document.text)
    assert {line.key: (line.before, line.now) for line in lines} == {
        "travel.droop": ("9 in", f"{inches}.5 in"),
        "wanted.bend": ("2 deg (assumed)", f"{deg} deg"),
    }
    back = typed_differences(document.text, before)
    assert {(x.key, x.now, x.before) for x in lines} == {(x.key, x.before, x.now) for x in back}


def test_a_dimension_of_ones_own_is_told_by_itself() -> None:
    document = Document.demo(WAGON)
    before = document.text
    key = "shaft.pinion_end.pinion_yoke"
    document.set({key: {"kind": "strap yoke", "throat_depth": "1 1/2 in"}})
    lines = typed_differences(before, document.text)
    assert [line.key for line in lines if "throat" in line.key] == [f"{key}.throat_depth"]


def test_a_version_against_itself_is_the_same() -> None:
    check = checked(WAGON)
    lines = answer_differences(check, check)
    assert {line.better for line in lines} <= {"same", ""}
    assert all(line.before == line.now for line in lines)
    assert "verdict" in by_label(lines)


def test_better_one_way_is_worse_the_other_way() -> None:
    one, other = checked(WAGON), checked("marsh-runner")
    there, back = (by_label(answer_differences(*pair)) for pair in ((one, other), (other, one)))
    opposite = {"better": "worse", "worse": "better", "same": "same", "": ""}
    assert there.keys() == back.keys()
    for label, line in there.items():
        assert back[label].better == opposite[line.better]
        assert (back[label].before, back[label].now) == (line.now, line.before)


def test_more_bend_to_spare_is_better_and_more_bend_is_worse() -> None:
    check = checked(WAGON)
    joint = check.joints["pinion"]
    less = replace(joint.sweep.most, value=joint.sweep.most.value - 0.1)
    swept = replace(joint, sweep=replace(joint.sweep, most=less))
    found = replace(check.found, joints={**check.joints, "pinion": swept})
    eased = replace(check, found=found)
    lines = by_label(answer_differences(check, eased))
    assert lines["pinion joint: worst bend"].better == "better"
    assert lines["pinion joint: bend left"].better == "better"
    assert lines["pinion joint: good for"].better == "same"
    assert lines["output joint: worst bend"].better == "same"


def test_a_lack_of_room_is_said_in_a_word() -> None:
    lines = by_label(answer_differences(checked(WAGON), checked(WAGON)))
    assert lines["pinion joint: bend left"].now.endswith("short")
    assert "-" not in lines["pinion joint: bend left"].now
