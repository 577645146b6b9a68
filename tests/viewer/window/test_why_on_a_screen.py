"""A failed joint at a real screen: clicked, ticked, marked, answered, saved, opened again.

`BINDPOINT_SHOTS` names a folder to keep a picture of each step in.
"""

import time
from pathlib import Path

import pytest

from sim.seen import load_inspection
from tests.viewer.window.hands import Facts, Hands

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

RIG = "long-legged-trail-wagon"

TRIES, ANSWERS = 3, 5.0
"""Times a path is typed, and s a dialog on a busy machine may take to be gone."""


def shown(facts: Facts, words: str) -> bool:
    return any(each["name"].startswith(words) for each in facts["widgets"])


def bars(facts: Facts) -> list[str]:
    return [each["name"] for each in facts["widgets"] if each["name"].endswith("%)")]


def named(hands: Hands, path: Path, title: str) -> None:
    """Type a path into a dialog for files; once more where a list of completions took the key."""
    hands.wait(title, lambda f: f["dialog"] == title)
    for _ in range(TRIES):
        hands.screen.keys("Control_L", "a")
        hands.screen.type(str(path))
        hands.screen.keys("Return")
        end = time.monotonic() + ANSWERS
        while time.monotonic() < end:
            if hands.facts.get("dialog") != title:
                return
            time.sleep(0.1)
    hands.accept(title)


def test_a_joint_is_ticked_marked_answered_saved_and_opened_again(
    hands: Hands, tmp_path: Path
) -> None:
    place = tmp_path / "seen.toml"
    hands.start(f"demo:{RIG}")
    hands.settled()
    hands.click("No more hints")
    hands.screen.keys("Control_L", "Shift_L", "w")
    hands.wait("the joint taken apart", lambda f: shown(f, "Joint taken apart"))
    hands.shot("taken-apart")

    # A click on the metal means the part: the cross lies in the middle.
    hands.click("?  Cap a, pinion yoke: not looked at")
    hands.wait("its words", lambda f: shown(f, "Shown: Cap a, pinion yoke"))
    hands.click("Joint taken apart", (0.505, 0.5))
    hands.wait("another part", lambda f: not shown(f, "Shown: Cap a, pinion yoke"))
    hands.shot("clicked")

    # One dry cap; the others of its list then were looked at.
    hands.click("?  Cap a, pinion yoke: not looked at")
    hands.wait("its words", lambda f: shown(f, "Shown: Cap a, pinion yoke"))
    hands.click("dry: not looked at")
    facts = hands.wait("a tick", lambda f: shown(f, "dry: seen"))
    assert shown(facts, "rust dust: not there")
    hands.wait("a first answer", bars)
    hands.shot("dry")

    # Half-moons on the yoke's ear tips, and a mark where they are.
    hands.click("?  Pinion yoke: not looked at")
    hands.wait("its words", lambda f: shown(f, "Shown: Pinion yoke"))
    hands.click("half-moon: not looked at")
    hands.wait("a tick", lambda f: shown(f, "half-moon: seen"))
    hands.click("Into the pinion yoke")
    hands.screen.keys("Alt_L", "k")
    hands.click("Mark here")
    hands.click("Joint taken apart", (0.56, 0.17))
    hands.wait("a mark", lambda f: shown(f, "Take mark 1 away"))
    hands.shot("marked")
    hands.screen.keys("Control_L", "z")
    hands.wait("no mark", lambda f: not shown(f, "Take mark 1 away"))
    hands.screen.keys("Control_L", "Shift_L", "z")
    hands.wait("the mark again", lambda f: shown(f, "Take mark 1 away"))
    hands.wait("the answer to it", lambda f: any("bound" in each for each in bars(f)))

    # What was computed fades in over it.
    hands.click("From what was seen to what was computed")
    hands.screen.keys("End")
    hands.wait("the key", lambda f: shown(f, "What is computed"))
    hands.shot("computed")
    hands.click("All apart")
    hands.shot("all-computed")

    # A customer sees it.
    hands.screen.keys("F11")
    hands.find("Leave")
    taken = tmp_path / "joint.png"
    hands.click("Save a picture ...")
    named(hands, taken, "Save the picture")
    hands.wait("the picture", lambda _: taken.exists())
    hands.shot("customer")
    hands.screen.keys("Escape")
    hands.wait("the room", lambda f: shown(f, "Joint taken apart") and not f["dialog"])

    hands.screen.keys("Control_L", "s")
    named(hands, place, "Save the inspection")
    hands.wait("the file", lambda _: place.exists())
    told = load_inspection(place)
    assert told.cap("end_a").seen == ("dry",)
    assert told.yoke("end").tips == ("half-moon",)
    (mark,) = told.marks or ()
    assert (mark.yoke, mark.surface) == ("end", "ear tip")

    # Closed, and opened again from the file.
    hands.screen.keys("Control_L", "w")
    hands.wait("the window alone", lambda f: not shown(f, "Joint taken apart"))
    hands.screen.keys("Control_L", "Shift_L", "w")
    hands.wait("a fresh one", lambda f: shown(f, "?  Cap a, pinion yoke"))
    hands.screen.keys("Control_L", "o")
    named(hands, place, "Open an inspection")
    hands.wait("what was ticked", lambda f: shown(f, "\N{BLACK CIRCLE}  Cap a, pinion yoke: dry"))
    hands.wait("the answer", bars)
    hands.shot("opened-again")
