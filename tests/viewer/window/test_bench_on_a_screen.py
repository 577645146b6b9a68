"""A joint on the bench at a real screen: a reading typed, answered, undone, taken next.

`BINDPOINT_SHOTS` names a folder to keep a picture of each step in.
"""

from collections.abc import Callable

import pytest

from tests.viewer.window import hands as hands_of
from tests.viewer.window.hands import Facts, Hands

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

SAYS = "Answer to the readings"

PATIENCE = 400.0
"""s until yokes are fitted on a busy machine."""


def text(facts: Facts, name: str) -> str | None:
    """What a field or a label says; None where it is not there."""
    return next((each["text"] for each in facts["widgets"] if each["name"] == name), None)


def answer(facts: Facts) -> str:
    """What the readings come to; "" while that is not known."""
    says = text(facts, SAYS) or ""
    return says if says.startswith("This joint first touches at") else ""


def wait_long(
    hands: Hands, monkeypatch: pytest.MonkeyPatch, what: str, holds: Callable[[Facts], object]
) -> Facts:
    with monkeypatch.context() as patch:
        patch.setattr(hands_of, "PATIENCE", PATIENCE)
        return hands.wait(what, holds)


def test_a_reading_is_typed_answered_and_undone(
    hands: Hands, monkeypatch: pytest.MonkeyPatch
) -> None:
    hands.start("demo:long-legged-trail-wagon")
    hands.settled()
    hands.click("No more hints")
    hands.screen.keys("Control_L", "Shift_L", "j")
    hands.wait("the bench", lambda f: text(f, "Reading 1") == "")
    hands.wait("the drawing", lambda f: "Red arrows" in text(f, "What the drawing shows"))
    hands.shot("bench")

    hands.retype("Reading 1", "24 1/2 deg +- 1/2 deg")
    hands.screen.keys("Return")
    hands.wait("a row for the next", lambda f: text(f, "Reading 2") == "")
    hands.shot("typed")
    says = answer(wait_long(hands, monkeypatch, "the answer", answer))
    assert "before any reading" in says
    assert "fitted, not measured" in says
    hands.shot("answered")

    hands.screen.keys("Control_L", "z")
    hands.wait("no reading", lambda f: text(f, "Reading 2") is None)
    hands.shot("undone")
    hands.screen.keys("Control_L", "Shift_L", "z")
    hands.wait("the reading again", lambda f: text(f, "Reading 2") == "")
    hands.wait("its answer, kept", lambda f: answer(f) == says)
    hands.shot("again")

    hands.click("Take that reading next")
    hands.wait("the row for it", lambda f: f["focus"] == "Reading 2")
    hands.shot("next")
    hands.retype("Reading 2", "26 deg")
    hands.screen.keys("Return")
    soon = hands.wait("a forecast", lambda f: (text(f, SAYS) or "").startswith("About "))
    assert "a forecast of where this joint first touches" in (text(soon, SAYS) or "")
    hands.shot("forecast")
    more = answer(
        wait_long(hands, monkeypatch, "the answer", lambda f: answer(f) not in ("", says))
    )
    assert "fitted, not measured" in more
    hands.shot("answered-again")


def test_what_will_not_do_is_said_below_it_and_taken_away(hands: Hands) -> None:
    hands.start("demo:long-legged-trail-wagon")
    hands.settled()
    hands.click("No more hints")
    hands.click("Bend the joint on the bench ...")
    hands.retype("Reading 1", "24 apples")
    hands.screen.keys("Return")
    wrong = "Reading 1: what is wrong"
    assert "24 apples" in hands.wait("a remark", lambda f: text(f, wrong))["rig"]
    hands.find(wrong)
    hands.shot("wrong")
    hands.click("Take reading 1 away")
    hands.wait("nothing to say", lambda f: text(f, wrong) is None and "apples" not in f["rig"])
    hands.shot("away")
