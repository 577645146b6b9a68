"""Findings steer, at a real screen: one click shows what meets, a double click drives there.

`BINDPOINT_SHOTS` names a folder to keep a picture of each step in.
"""

import pytest

from tests.viewer.session.conftest import checked
from tests.viewer.window.hands import Facts, Hands
from viewer.words.findings import finding_lines

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

RIG = "long-legged-trail-wagon"

NEAR = 0.02
"""mm or rad that a pose may differ: nothing is rounded on the way to it."""


def text_of(facts: Facts, name: str) -> str:
    return next(each["text"] for each in facts["widgets"] if each["name"] == name)


def is_seen(facts: Facts, words: str) -> bool:
    return any(each["name"].startswith(words) for each in facts["widgets"])


def head_of(hands: Hands, words: str) -> tuple[int, int]:
    """Where the row of the list of findings stands still that begins so."""
    place = hands.find(words, begins=True)["place"]
    return place[0] + 60, place[1] + 8


def test_a_click_shows_what_meets_and_a_double_click_drives_there(hands: Hands) -> None:
    hands.start(f"demo:{RIG}")
    hands.settled()
    hands.click("No more hints")
    answer = checked(RIG)
    joint = next(each for each in answer.findings if each.code == "joint-bend")
    words = "\n".join(finding_lines(joint))
    hands.screen.keys("F9")
    hands.screen.click(*head_of(hands, words))
    facts = hands.wait("its joint", lambda f: f["chosen"] == joint.subject and f["pose"][0] != 0.0)
    assert joint.at is not None
    assert facts["pose"][:3] == pytest.approx(
        [joint.at.travel, joint.at.roll, joint.at.wrap], rel=0, abs=NEAR
    )
    assert facts["looks"] == joint.subject
    hands.shot("finding")
    hands.screen.keys("F7")
    hands.wait("the map", lambda f: is_seen(f, "Travel map"))
    assert text_of(hands.facts, "What the map shows the room of") == f"{joint.subject} joint"
    hands.shot("map")
    hands.screen.keys("F8")
    hands.wait("the strip", lambda f: is_seen(f, "Turn strip"))
    assert text_of(hands.facts, "Joint of the turn strip") == joint.subject
    assert "metal in metal" in text_of(hands.facts, "Gap at this turn")
    hands.shot("strip")

    # The arrow goes on to the next one, the space bar drives there.
    hands.screen.keys("F9")
    hands.screen.keys("Down")
    second = answer.findings[1]
    hands.wait("the next finding", lambda f: f["chosen"] == second.subject)
    hands.screen.keys("space")
    hands.wait("a drive", lambda f: f["drive"] is not None)
    hands.screen.keys("Control_L", "0")
    hands.wait("ride height", lambda f: f["drive"] is None and f["pose"][0] == 0.0)

    # Twice on the first one.
    hands.screen.keys("F9")
    hands.screen.keys("Home")
    hands.wait("the first again", lambda f: f["chosen"] == joint.subject)
    hands.screen.keys("Control_L", "0")
    hands.wait("ride height again", lambda f: f["pose"][0] == 0.0)
    hands.settled()
    hands.screen.double_click(*head_of(hands, words))
    driven = hands.wait("a drive", lambda f: f["drive"] is not None)
    assert driven["chosen"] == joint.subject
    hands.wait("its way", lambda f: f["drive"] is not None and f["pose"][0] < -50.0)
    hands.shot("driven")
