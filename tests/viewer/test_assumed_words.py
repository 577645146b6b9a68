"""What a finding rests on that nobody gave, as it is told in text, picture and JSON."""

import re

import pytest

from sim.check import Check, check
from sim.rig import Rig, changed, parse_rig
from sim.rig.defaults import DEFAULTS
from sim.rig.otherwise import OF_THE_FILE
from sim.rig.typed_joints import GenericParts
from tests.sim.rigs import COORDINATES, PHONE_CALL
from tests.viewer.whole_text import check_text
from viewer.check.json import check_data
from viewer.check.picture import check_picture
from viewer.words.assumed import _PHRASES, assumed_short, assumed_words, generic_words
from viewer.words.findings import says
from viewer.words.verdicts import check_word, headline


@pytest.fixture(scope="module")
def sparse() -> Check:
    return check(parse_rig(PHONE_CALL))


def plain(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def test_there_are_words_for_everything_that_may_be_assumed() -> None:
    assert set(_PHRASES) == {default.key for default in DEFAULTS} - set(OF_THE_FILE)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        (GenericParts(), ""),
        (GenericParts("27 x 82", None, ("weld yoke", "strap yoke")), "a generic 27 x 82 joint"),
        (GenericParts(yokes=("weld yoke", "strap yoke")), "generic yokes"),
        (GenericParts(yokes=("strap yoke",)), "a generic strap yoke"),
        (GenericParts(head="ordinary head"), "a generic ordinary head"),
    ],
)
def test_generic_parts_are_named(parts: GenericParts, words: str) -> None:
    assert generic_words(parts) == words


def test_a_joint_that_nobody_named_is_judged_as_the_generic_one(sparse: Check) -> None:
    found = next(each for each in sparse.findings if each.subject == "pinion")
    assert found.verdict == "touches"
    assert says(found).startswith("With a generic 27 x 82 joint the pinion joint binds at ")
    assert check_word(sparse) == "TOUCHES"
    assert "Generic joints stand in where none were named." in headline(sparse)


def test_every_finding_that_rests_on_something_assumed_says_so_in_text_and_json(
    sparse: Check,
) -> None:
    told = plain(check_text(sparse))
    data = check_data(sparse, "rig")
    for finding, line in zip(sparse.findings, data["findings"], strict=True):
        assert line["rests_on_assumed"] == [each.key for each in finding.rests_on]
        assert line["rests_on_assumed"]
        rests = assumed_words(finding)
        assert rests.startswith("Assumed: ")
        assert plain(f"{says(finding)} {rests}") in told
        assert assumed_short(finding.rests_on).startswith("Assumed: ")
    assert data["slip"]["closes_left_mm"] is data["slip"]["opens_left_mm"] is None
    assert data["slip"]["asked_opening_mm"] == pytest.approx(sparse.found.swept.slip.longest.value)


def test_the_slip_is_asked_with_its_numbers(sparse: Check) -> None:
    found = next(each for each in sparse.findings if each.code == "slip-not-measured")
    words = says(found)
    assert words.startswith("Nobody measured how far the slip can close or open, so it is not ")
    assert "From ride height the travel takes " in words  # not "nose down from ride height"
    assert " of closing at 4 in bump" in words
    assert " of opening at 8 in droop" in words
    assert words.endswith(". Measure the truck's own.")
    assert "Nobody measured the slip." in headline(sparse)
    assert "; not measured" in check_text(sparse)


@pytest.mark.slow
def test_nothing_is_called_assumed_where_all_was_typed() -> None:
    result = check(parse_rig(COORDINATES))
    told = check_text(result)
    assert "Assumed" not in told
    assert "generic 27" not in told
    assert "Generic joints" not in told


def test_the_picture_says_so_too(sparse: Check) -> None:
    picture = check_picture(sparse)
    assert picture.joint.headline.startswith("With a generic 27 x 82 joint the pinion joint")
    assert any(line.startswith("Assumed: ") for line in picture.joint.lines)
    assert any(line.startswith("Slip: measure it") for line in picture.lines)
    assert "(generic)" in picture.verdict


def test_one_generic_yoke_beside_what_was_named_is_named_alone() -> None:
    named: dict[str, object] = {
        "shaft.pinion_end.cross": "27 x 82",
        "shaft.pinion_end.shaft_yoke": "weld yoke",
    }
    rig: Rig = changed(parse_rig(PHONE_CALL), named)
    found = next(each for each in check(rig).findings if each.subject == "pinion")
    assert says(found).startswith("With a generic strap yoke the pinion joint ")
