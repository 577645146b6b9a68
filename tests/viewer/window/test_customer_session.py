"""The customer view by real mouse and keys: see it bind, find a cure, see both, leave it as it was.

`BINDPOINT_SHOTS` names a folder to keep a picture of each step in.
"""

from math import degrees
from pathlib import Path

import pytest
from PIL import Image

from sim.check import check
from sim.pose import pose_of
from sim.rig import parse_rig
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked
from tests.viewer.window.hands import Facts, Hands

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

RIG = "long-legged-trail-wagon"


def texts(facts: Facts) -> list[str]:
    return [widget["text"] for widget in facts["widgets"]]


def verdict(facts: Facts) -> str:
    travel, roll, wrap, spin = facts["pose"]
    return pose_of(checked(RIG), Pose(travel, roll, wrap), spin).verdict


def drag(hands: Hands, name: str, right: int) -> None:
    """Drag a slider by so many px."""
    x, y = hands.find(name)["grip"]
    hands.screen.move(x, y)
    hands.screen.press()
    for step in range(1, 9):
        hands.screen.move(x + right * step // 8, y)
    hands.screen.release()


def test_see_it_bind_find_a_cure_see_both_and_leave_it(hands: Hands, tmp_path: Path) -> None:
    hands.start(f"demo:{RIG}")
    first = hands.settled()
    worst = checked(RIG).findings[0].at
    assert worst is not None

    # It opens where it is worst, and each control moves what it says.
    hands.screen.keys("F11")
    hands.wait("the customer view", lambda f: f["dialog"])
    opened = hands.wait("the worst pose", lambda f: f["pose"][0] == worst.travel)
    hands.find("Leave")
    hands.shot("opened")
    assert "TOUCHES" in texts(opened)
    drag(hands, "Axle height", +90)
    hands.wait("a higher axle", lambda f: f["pose"][0] > worst.travel + 20.0)
    drag(hands, "Crossed up", +60)
    crossed = hands.wait(
        "crossed up, in words",
        lambda f: f"{degrees(f['pose'][1]):.1f} deg, left wheel up" in texts(f),
    )
    drag(hands, "Axle wrap", +50)
    hands.wait("less nose down", lambda f: f["pose"][2] > worst.wrap + 0.01)
    drag(hands, "Turn of the shaft", +70)
    hands.wait("a turned shaft", lambda f: f["pose"][3] != crossed["pose"][3])
    hands.shot("moved")
    hands.click("Ride height")
    hands.wait("ride height", lambda f: f["pose"][:3] == [0.0, 0.0, 0.0])
    hands.wait("CLEAR", lambda f: "CLEAR" in texts(f))

    # Show me: to the bind, and on.
    hands.click("Show me")
    hands.find("Stop")
    hands.find("Push on")
    stopped = hands.wait("what it met", lambda f: any(t.startswith("Stopped: ") for t in texts(f)))
    hands.shot("stopped")
    assert stopped["pose"][0] < 0.0
    hands.click("Push on")
    pushed = hands.wait("the worst", lambda f: any(t.startswith("The worst, ") for t in texts(f)))
    assert verdict(pushed) == "touches"
    assert pushed["pose"][0] == pytest.approx(worst.travel, abs=1e-6)

    # A cure, beside the rig as it is.
    hands.click("What would cure it?")
    hands.click("Find cures")
    hands.find("Show cure 1")
    hands.shot("cures")
    hands.click("Show cure 1")
    cured = hands.wait("the cure", lambda f: f["rig"] != first["rig"] and f["answer"] == "fresh")
    hands.find("Keep this cure")
    hands.wait("both", lambda f: {"As it is", "With the cure"} <= set(texts(f)))
    both = hands.wait("both verdicts", lambda f: {"TOUCHES", "CLEAR"} <= set(texts(f)))
    hands.shot("both")
    answer = check(parse_rig(cured["rig"], "shown"))
    travel, roll, wrap, spin = both["pose"]
    assert pose_of(answer, Pose(travel, roll, wrap), spin).verdict == "clear"

    # A picture of both, to take home.
    hands.click("Save a picture ...")
    hands.wait("the dialog", lambda f: f["dialog"] == "Save the picture")
    place = tmp_path / "both.png"
    hands.screen.keys("Control_L", "a")
    hands.screen.type(str(place))
    hands.accept("Save the picture")
    hands.wait("that it is saved", lambda f: "Saved both.png." in texts(f))
    with Image.open(place) as picture:
        assert picture.width > 600

    # Leaving asks, and nothing is left of it.
    hands.screen.keys("Escape")
    hands.wait("the question", lambda f: f["dialog"] == "Keep the cure?")
    hands.shot("question")
    hands.click("Leave it as it was")
    left = hands.wait("the window", lambda f: f["dialog"] is None and f["answer"] == "fresh")
    assert left["rig"] == first["rig"]
    assert left["pose"] == first["pose"]
    assert left["undo"] is None
    hands.shot("left")
