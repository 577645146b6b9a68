"""Uses the window as a person does: looks for what is written, clicks it, types, waits."""

import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tests.viewer.window.facts_file import FACTS_VARIABLE
from tests.viewer.window.screen import Screen

ROOT = Path(__file__).parents[3]
PATIENCE = 240.0
"""s until what was done has to show: a fit of bench readings takes a minute or two where other
tests run beside it."""

SLOW = 30
"""Tenths of a second a busy machine may take to answer a key."""

STILL = 4
"""Looks of the program at itself at which a widget that is to be clicked has to stand in the same
place; the first of them may be older than what was pressed last."""

Facts = dict[str, Any]


class Hands:
    """The program on a screen, and what is done to it.

    Attributes
    ----------
    shots : folder of the pictures, numbered as they come.
    """

    def __init__(self, screen: Screen, folder: Path, shots: Path) -> None:
        self.screen, self.shots = screen, shots
        self._file = folder / "facts.json"
        self._program: subprocess.Popen[bytes] | None = None
        self._count = 0
        shots.mkdir(parents=True, exist_ok=True)

    @property
    def program(self) -> subprocess.Popen[bytes]:
        """The program that runs."""
        assert self._program is not None, "the program has not been started"
        return self._program

    def start(self, *words: str) -> None:
        """Start the program."""
        self._file.unlink(missing_ok=True)
        around = os.environ | {
            "DISPLAY": self.screen.display,
            FACTS_VARIABLE: str(self._file),
            "PYTHONPATH": str(ROOT),
            "QT_QPA_PLATFORM": "xcb",
        }
        command = [sys.executable, "-m", "tests.viewer.window.told_program", "window", *words]
        self._program = subprocess.Popen(command, cwd=ROOT, env=around)

    def kill(self) -> None:
        """End the program at once, as a crash or a power cut does."""
        if self._program is not None:
            self._program.kill()
            self._program.wait(PATIENCE)

    @property
    def facts(self) -> Facts:
        """What is shown now; empty before anything is."""
        try:
            return json.loads(self._file.read_text("utf-8"))
        except FileNotFoundError:
            return {}

    def wait(self, what: str, holds: Callable[[Facts], object]) -> Facts:
        """The facts as soon as something holds."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            facts = self.facts
            if facts and holds(facts):
                return facts
            time.sleep(0.02)
        shown = {key: value for key, value in self.facts.items() if key not in ("rig", "widgets")}
        self.shot("not-seen")
        raise AssertionError(f"not seen within {PATIENCE:.0f} s: {what}; shown: {shown}")

    def accept(self, dialog: str) -> None:
        """Press Return in a dialog until it is gone: the first may go to a list of completions."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            self.screen.keys("Return")
            for _ in range(SLOW):
                if self.facts.get("dialog") != dialog:
                    return
                time.sleep(0.1)
        self.shot("not-accepted")
        raise AssertionError(f"not gone within {PATIENCE:.0f} s: {dialog!r}")

    def settled(self) -> Facts:
        """The facts once the answer is that of the rig and everything about it is known."""
        return self.wait(
            "a fresh answer",
            lambda f: f["answer"] == "fresh" and f["map"] and f["ready"] and not f["work"],
        )

    def find(self, name: str, last: bool = False, begins: bool = False) -> Facts:
        """A widget by its name, once it is seen and stands still; the last of several if asked.

        begins : whether the name may go on behind that.
        """
        stood: dict[int, list[int]] = {}

        def named(each: Facts) -> bool:
            return each["name"].startswith(name) if begins else each["name"] == name

        def still(facts: Facts) -> bool:
            found = [each for each in facts["widgets"] if named(each)]
            found.sort(key=lambda each: (each["place"][1], each["place"][0]))
            stood[facts["look"]] = found[-1 if last else 0]["place"] if found else []
            places = list(stood.values())[-STILL:]
            return bool(found) and len(places) == STILL and places == STILL * places[:1]

        facts = self.wait(f"{name!r}", still)
        place = stood[facts["look"]]
        return next(w for w in facts["widgets"] if named(w) and w["place"] == place)

    def click(self, name: str, share: tuple[float, float] = (0.5, 0.5), last: bool = False) -> None:
        """Click a widget, at a share of its width and height."""
        left, top, width, height = self.find(name, last)["place"]
        self.screen.click(round(left + share[0] * width), round(top + share[1] * height))

    def retype(self, name: str, text: str) -> None:
        """Type a text in place of what a field holds."""
        self.click(name)
        self.wait(f"the cursor in {name!r}", lambda f: f["focus"] == name)
        self.screen.keys("Control_L", "a")
        self.screen.type(text)
        self.wait(
            f"{text!r} in {name!r}",
            lambda f: any(w["name"] == name and w["text"] == text for w in f["widgets"]),
        )

    def shot(self, name: str) -> None:
        """Keep a picture of the screen."""
        self._count += 1
        self.screen.shot(self.shots / f"{self._count:02d}-{name}.png")
