"""A session at a real screen, by mouse and keys: bind, mend, undo, save, crash, recover.

`BINDPOINT_SHOTS` names a folder to keep a picture of each step in.
"""

from pathlib import Path

import pytest

from sim.check import Check, check
from sim.pose import PoseCheck, pose_of
from sim.rig import parse_rig
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked
from tests.viewer.window.hands import Facts, Hands
from viewer.session.kept.recovery import autosave_folder, lost_work
from viewer.words.now import now_says

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

RIG = "long-legged-trail-wagon"


def now(facts: Facts, answer: Check) -> PoseCheck:
    """What holds in the pose that is shown, worked out here."""
    travel, roll, wrap, spin = facts["pose"]
    return pose_of(answer, Pose(travel, roll, wrap), spin)


def answer_to(facts: Facts) -> Check:
    """The answer to the rig that is shown, worked out here."""
    return check(parse_rig(facts["rig"], "shown"))


def drag_down_to_touch(hands: Hands) -> tuple[Facts, float]:
    """Drag the axle height to the left until a joint binds; the facts, and the height before."""
    slider = hands.find("Axle height")
    x, y = slider["grip"]
    hands.screen.move(x, y)
    hands.screen.press()
    facts = hands.facts
    while "bind" not in facts["says"]:
        before = facts["pose"][0]
        x -= 8
        assert x > slider["ends"][0] - 8, f"nothing binds down to {before} mm"
        hands.screen.move(x, y)
        facts = hands.wait("a lower axle", lambda f, was=before: f["pose"][0] < was)
    hands.screen.release()
    return facts, before


def test_bind_mend_undo_save_crash_recover(hands: Hands, tmp_path: Path) -> None:
    # The first look.
    hands.start(f"demo:{RIG}")
    hands.wait("the window", lambda f: f["title"])
    hands.shot("window")
    first = hands.settled()
    original, answer = first["rig"], checked(RIG)
    hands.shot("first-look")
    assert first["says"] == now_says(now(first, answer))
    assert first["verdict"] == "touches"
    assert not first["modified"]

    # Drag down to where it binds: just there, and not a step before.
    touching, before = drag_down_to_touch(hands)
    assert touching["says"] == now_says(now(touching, answer))
    assert pose_of(answer, Pose(before, 0.0, 0.0), 0.0).verdict != "touches"
    hands.wait("gaps and strip", lambda f: not f["work"])
    hands.shot("binds-at-droop")

    # Click the map elsewhere.
    hands.screen.keys("F7")
    hands.click("Travel map", (0.3, 0.48))
    moved = hands.wait("another wrap", lambda f: f["pose"][2] != 0.0)
    assert moved["pose"][1] == 0.0
    assert moved["says"] == now_says(now(moved, answer))
    hands.wait("gaps and strip", lambda f: not f["work"])
    hands.shot("map")

    # A deeper throat in the shaft's yoke at the pinion, where it is tightest.
    hands.screen.keys("F5")
    hands.retype("Find a measurement", "shaft yoke")
    hands.click("shaft yoke: pictures and own dimensions", last=True)
    hands.wait("the chooser", lambda f: f["dialog"] and "yoke" in f["dialog"])
    hands.retype("throat depth", "1 5/16 in")
    hands.wait("the depth in the rig", lambda f: 'throat_depth = "1 5/16 in"' in f["rig"])
    hands.shot("chooser")
    hands.click("Close")
    hands.wait("no chooser", lambda f: f["dialog"] is None)
    deeper = hands.settled()
    assert deeper["says"] == now_says(now(deeper, answer_to(deeper)))
    assert deeper["says"] != moved["says"]
    assert deeper["modified"]
    hands.shot("deeper-throat")

    # Undo takes it back.
    hands.screen.keys("Control_L", "z")
    hands.wait("the rig as it was", lambda f: f["rig"] == original)
    again = hands.settled()
    assert again["says"] == moved["says"]
    assert not again["modified"]
    hands.shot("undone")

    # Less droop, saved to a file of one's own.
    mine = tmp_path / "my-truck.toml"
    hands.retype("Find a measurement", "droop")
    hands.retype("droop", "6 in")
    hands.wait("the droop in the rig", lambda f: 'droop = "6 in"' in f["rig"])
    hands.screen.keys("Control_L", "s")
    hands.wait("where to save", lambda f: f["dialog"] == "Save the rig file")
    hands.screen.type(str(mine))
    hands.shot("save")
    hands.accept("Save the rig file")
    saved = hands.wait("that it is saved", lambda f: f["file"] == str(mine))
    assert not saved["modified"]
    assert mine.read_text("utf-8") == saved["rig"]

    # More typed, kept by itself, and the program dies.
    hands.retype("droop", "5 in")
    hands.wait("the droop in the rig", lambda f: 'droop = "5 in"' in f["rig"])
    hands.wait("it to be kept", lambda _: kept('droop = \\"5 in\\"'))
    hands.kill()
    assert mine.read_text("utf-8") == saved["rig"]
    (lost,) = lost_work()
    assert lost.path == mine

    # It is offered, and comes back.
    hands.start(f"demo:{RIG}")
    hands.wait("the question", lambda f: f["dialog"] == "Work that was not saved")
    hands.find("Bring it back")
    hands.shot("offered")
    hands.click("Bring it back")
    back = hands.wait("what was lost", lambda f: 'droop = "5 in"' in f["rig"])
    assert back["modified"]
    assert back["file"] == str(mine)
    hands.settled()
    hands.shot("recovered")

    # Back to the file, and out.
    hands.screen.keys("Control_L", "z")
    hands.wait("what the file holds", lambda f: f["rig"] == saved["rig"])
    hands.screen.keys("Control_L", "q")
    assert hands.program.wait(30.0) == 0
    assert lost_work() == []


def kept(words: str) -> bool:
    """Whether unsaved work with these words lies on the disk."""
    return any(words in file.read_text("utf-8") for file in autosave_folder().glob("*.json"))
