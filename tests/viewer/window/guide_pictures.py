"""Draws the window's pictures of the guide anew: `python -m tests.viewer.window.guide_pictures`.

With `why` behind it only that of the room for a failed joint. Every picture is of the program on a
screen, used by mouse and keys.
"""

import os
import sys
import tempfile
from pathlib import Path
from time import sleep

from PIL import Image

from tests.viewer.window.hands import Facts, Hands
from tests.viewer.window.screen import SIZE, screen
from viewer.session.kept.window_state import WindowState, keep_state
from viewer.state_folder import FOLDER_VARIABLE
from viewer.yoke.shelf import shelf_place

PICTURES = Path(__file__).parents[3] / "docs" / "pictures"
INSPECTION = PICTURES.parents[1] / "models" / "inspections" / "long-legged-trail-wagon.toml"
FRAME = (0, 0, 1400, 900)
"""px of the window on the screen."""

MANY = 3
"""Steps of undo that are enough to be back at the demo."""


class Album:
    """Pictures of the program as it is used."""

    def __init__(self, hands: Hands) -> None:
        self._hands = hands

    def take(self, name: str, whole: bool = False, of: str = "") -> None:
        """Keep a picture of the window, or of the whole screen as large as the window.

        of : name of another window to keep.
        """
        place = self._hands.shots / f"{name}.png"
        self._hands.settled()
        self._hands.screen.move(SIZE[0] - 1, SIZE[1] - 1)
        self._hands.screen.shot(place)
        with Image.open(place) as picture:
            if whole:
                height = round(FRAME[2] * SIZE[1] / SIZE[0])
                kept = picture.resize((FRAME[2], height), Image.Resampling.LANCZOS)
            else:
                left, top, wide, high = self._hands.find(of)["place"] if of else FRAME
                kept = picture.crop((left, top, left + wide, top + high))
        # Sought until greys stay grey and amber stays amber.
        few = kept.quantize(256, kmeans=8, dither=Image.Dither.NONE)
        few.save(PICTURES / f"window-{name}.png", optimize=True)


def take_all(hands: Hands) -> None:
    """Use the program from the first look to the customer view."""
    album = Album(hands)
    hands.start("demo:long-legged-trail-wagon")
    hands.settled()
    hands.click("No more hints")
    album.take("first-look")

    hands.retype("Axle height, typed", "7 1/2 in droop")
    hands.screen.keys("Return")
    hands.wait("a joint that binds", lambda f: "binds" in f["says"])
    hands.screen.keys("Control_L", "t")
    hands.click("View: Pinion joint")
    album.take("binds")

    hands.click("View: Whole shaft")
    hands.screen.keys("F7")
    hands.click("Travel map", (0.42, 0.6))
    hands.wait("a pose that is clear", lambda f: "binds" not in f["says"])
    album.take("map-and-strip")

    hands.screen.keys("F4")
    hands.click("Put this version aside")
    hands.screen.keys("F5")
    hands.retype("Find a measurement", "shaft yoke")
    hands.click("shaft yoke: pictures and own dimensions", last=True)
    hands.wait("the chooser", lambda f: f["dialog"] and "yoke" in f["dialog"])
    hands.click("deep-throat weld yoke")
    hands.wait("the deep throat", lambda f: '"deep-throat weld yoke"' in f["rig"])
    drawn = shelf_place("27 x 82")
    hands.wait("pictures of yokes", lambda f: f["answer"] == "fresh" and drawn.exists())
    sleep(2.0)  # the window hears of it when the program that drew them has ended
    album.take("yokes")

    hands.click("Close")
    hands.wait("no chooser", lambda f: f["dialog"] is None)
    hands.screen.keys("F4")
    hands.find("Drop it")
    album.take("two-versions")

    hands.click("Drop it")
    for _ in range(MANY):
        hands.screen.keys("Control_L", "z")
    hands.wait("the rig as it was", lambda f: "deep-throat" not in f["rig"])
    hands.settled()
    hands.click("What would cure it?")
    hands.find("Try cure 1")
    hands.click("Try cure 1")
    hands.wait("the cure", lambda f: f["undo"] == "cure 1")
    hands.settled()
    album.take("cures")
    hands.click("Show side by side")
    hands.wait("both", lambda f: f["dialog"] is not None)
    hands.find("Leave")
    hands.click("Show me")
    hands.wait("the stop, nose down", lambda f: f["pose"][2] < -0.069)
    album.take("before-and-after", whole=True)
    hands.click("Leave")
    hands.wait("the window", lambda f: f["dialog"] is None)
    hands.screen.keys("Control_L", "z")
    hands.wait("the rig without it", lambda f: f["undo"] != "cure 1")
    hands.screen.keys("F4")
    hands.click("Drop it")
    hands.settled()

    hands.screen.keys("Control_L", "b")
    hands.wait("the worst pose", lambda f: f["pose"][0] < -200.0)
    hands.screen.keys("F11")
    hands.wait("the customer view", lambda f: f["dialog"] is not None)
    hands.find("Leave")
    album.take("customer", whole=True)
    hands.click("Leave")
    hands.wait("the window", lambda f: f["dialog"] is None)
    hands.kill()


def take_why(hands: Hands) -> None:
    """Open the demo inspection in the room for a failed joint, and fade in what is computed."""
    album = Album(hands)
    hands.start("demo:long-legged-trail-wagon")
    hands.settled()
    hands.click("No more hints")
    hands.wait("no hints", lambda f: not _there(f, "No more hints"))
    hands.click("A joint broke, or wore out?")
    hands.wait("the room", lambda f: _there(f, "Joint taken apart"))
    hands.screen.keys("Control_L", "o")
    hands.wait("which file", lambda f: f["dialog"] == "Open an inspection")
    hands.screen.type(str(INSPECTION))
    hands.accept("Open an inspection")
    hands.wait("the answer", lambda f: any(w["name"].endswith("%)") for w in f["widgets"]))
    hands.click("\N{BLACK CIRCLE}  Shaft yoke: burr, half-moon, 1 more")
    hands.click("From what was seen to what was computed")
    hands.screen.keys("End")
    hands.click("All apart")
    hands.wait("what is computed", lambda f: _there(f, "What is computed"))
    album.take("why", of="It broke, or it wore")


def _there(facts: Facts, name: str) -> bool:
    return any(each["name"] == name for each in facts["widgets"])


def main() -> None:
    """Take them, with a state of its own."""
    with tempfile.TemporaryDirectory() as folder, screen() as shown:
        place = Path(folder)
        os.environ[FOLDER_VARIABLE] = str(place / "state")
        os.environ["BINDPOINT_CACHE"] = str(place / "cache")
        keep_state(WindowState(FRAME))
        hands = Hands(shown, place, Path(os.environ.get("BINDPOINT_SHOTS") or place / "shots"))
        try:
            if sys.argv[1:] != ["why"]:
                take_all(hands)
            take_why(hands)
        finally:
            hands.kill()


if __name__ == "__main__":
    main()
