"""What `bindpoint why` prints, draws and gives to programs, held to the answer behind it."""

from functools import cache
from math import degrees, pi

import pytest

from sim.marks import SeenMark
from sim.rig.demos import load_demo
from sim.seen import demos
from sim.why.why import Why, why
from viewer.why.counter import counter
from viewer.why.json import why_data
from viewer.why.picture import why_picture
from viewer.why.told import told_of
from viewer.words.causes import percent
from viewer.words.seen import CAP_CALLED
from viewer.words.signs import sign_words

pytestmark = pytest.mark.slow


@cache
def of(name: str) -> Why:
    """The answer to a demo inspection."""
    return why(load_demo(name), demos.load_demo(name))


def test_the_picture_shows_the_trunnion_that_the_text_names() -> None:
    """Its yoke tips both caps alike, and one of them is pressed harder."""
    found = of("timber-crew-carrier")
    crooked = found.computed_of("cap-cocked")
    pressed = why_picture(found, "x").pressed
    assert crooked is not None
    assert pressed is not None
    name = crooked.why["cap"]
    assert CAP_CALLED[name] in pressed.headline  # type: ignore[index]
    assert pressed.cap is found.asked.cocked.caps[name]  # type: ignore[index]
    assert f"cap {CAP_CALLED[name]} sits" in " ".join(counter(found, "x"))  # type: ignore[index]


def test_each_cause_has_its_own_odds_and_its_signs_their_own_words() -> None:
    found = of("quarry-hauler")
    data = why_data(found, "x")
    assert len({each["odds_high"] for each in data["causes"]}) > 5
    for each, cause in zip(data["causes"], found.causes, strict=True):
        assert each["odds_low"] <= each["odds"] <= each["odds_high"]
        assert (each["odds_low"], each["odds_high"]) == found.within[cause.code]
        for sign in (*each["speaks_for"], *each["speaks_against"]):
            assert sign["says"] == sign_words(sign["sign"], sign["there"], found.inspection)
    lines = " ".join(line for part in told_of(found).detail for line in part.entries)
    for cause in found.not_ruled_out:
        low, high = map(percent, found.within[cause.code])
        assert low == high or f"anywhere from {low} to {high}" in lines


def test_the_knock_is_in_degrees_and_newton_metres() -> None:
    found = of("quarry-hauler")
    knock, data = found.asked.overload.knock, why_data(found, "x")["overload"]["knock"]
    assert knock is not None
    assert data["play_deg"] == pytest.approx(1.25)
    assert data["closes_deg_s"]["estimate"] == pytest.approx(degrees(knock.speed.value))
    assert data["peak_nm"]["estimate"] == pytest.approx(knock.peak.value / 1e3)
    # Through the gap at an even push it takes 2 g / w, in seconds what a hand would say.
    assert 2.0 * data["play_deg"] / data["closes_deg_s"]["estimate"] < 0.1


def test_seen_marks_are_told_where_somebody_saw_them() -> None:
    found = of("long-legged-trail-wagon")
    lie = found.asked.lie
    assert lie is not None
    first = lie.marks[0].mark
    assert first == SeenMark("shaft", "throat", pi / 4.0, first.depth, True)
    assert first.depth == pytest.approx(1.016)
    lines = [line for part in told_of(found).detail for line in part.entries]
    seen = [line for line in lines if line.startswith("Seen on the ")]
    assert "shaft's yoke, throat at 1:30" in seen[0]
    assert "shaft's yoke, throat at 4:30" in seen[1]
    assert "other yoke, bolt at 1:15" in seen[2]  # 1:20 is read to a quarter


@pytest.mark.slow
def test_marks_that_lie_elsewhere_are_told_at_the_counter() -> None:
    """A bolt that is marked where the other yoke reaches it at no bend."""
    rig, seen = load_demo("long-legged-trail-wagon"), demos.load_demo("long-legged-trail-wagon")
    at = next(mark for mark in seen.marks or () if mark.yoke == "end")
    away = why(rig, seen.model_copy(update={"marks": (at.model_copy(update={"clock": "12"}),)}))
    assert away.asked.lie is not None
    assert away.asked.lie.ratio < 0.5
    said = " ".join(counter(away, "x"))
    assert (
        "But the mark on the bolt of the pinion strap yoke lies where these yokes do not meet"
        in said
    )
    assert "do not meet" not in " ".join(counter(of("long-legged-trail-wagon"), "x"))
