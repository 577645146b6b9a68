"""A screen of its own, with a mouse and a keyboard that press what a hand would press.

Xvfb is the screen, XTEST moves the mouse and presses keys: a program cannot tell them from real
ones. No window manager runs; the keys go to the window on top, as one would see to.
"""

import os
import select
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

from PIL import Image

SIZE = (1600, 1000)
PATIENCE = 20.0
"""s for the screen to be there."""

FINGER = 5
"""ms from one move of a finger that clicks to the next."""

NAMED = {" ": "space", "/": "slash", ".": "period", "-": "minus", "_": "underscore", "+": "plus"}
"""Names of keys that are not those of their sign."""


def has_screen() -> bool:
    """Whether a screen can be had here."""
    linux = sys.platform.startswith("linux")
    return linux and shutil.which("Xvfb") is not None and find_spec("Xlib") is not None


class Screen:
    """A mouse, a keyboard and what is seen."""

    def __init__(self, display: str, size: tuple[int, int] = SIZE) -> None:
        from Xlib import XK, X
        from Xlib.display import Display
        from Xlib.ext import xtest

        self.display, self.size = display, size
        self._x, self._keysyms, self._xtest = X, XK, xtest
        self._link = Display(display)
        self._root = self._link.screen().root

    def move(self, x: int, y: int) -> None:
        """Move the mouse."""
        self._xtest.fake_input(self._link, self._x.MotionNotify, x=x, y=y)
        self._link.sync()

    def press(self) -> None:
        """Hold the left button down."""
        self._xtest.fake_input(self._link, self._x.ButtonPress, 1)
        self._link.sync()

    def release(self) -> None:
        """Let the left button go."""
        self._xtest.fake_input(self._link, self._x.ButtonRelease, 1)
        self._link.sync()

    def click(self, x: int, y: int) -> None:
        """Go there and click."""
        self.move(x, y)
        self.press()
        self.release()

    def double_click(self, x: int, y: int) -> None:
        """Go there and click twice, as fast as a finger does.

        The server itself waits in between, so that a busy machine seldom makes two clicks of it;
        and it has to wait: two presses in one millisecond are two clicks to Qt.
        """
        self.move(x, y)
        for what in (self._x.ButtonPress, self._x.ButtonRelease) * 2:
            self._xtest.fake_input(self._link, what, 1, FINGER)
        self._link.sync()

    def keys(self, *names: str) -> None:
        """Press keys together, such as Control_L and z."""
        self._look_at_the_top()
        codes = [code for name in names for code in self._codes(name)]
        for code in codes:
            self._xtest.fake_input(self._link, self._x.KeyPress, code)
        for code in reversed(codes):
            self._xtest.fake_input(self._link, self._x.KeyRelease, code)
        self._link.sync()

    def type(self, text: str) -> None:
        """Type a text, a key at a time."""
        for sign in text:
            self.keys(NAMED.get(sign, sign))

    def shot(self, place: Path) -> None:
        """Keep a picture of the screen."""
        image = self._root.get_image(0, 0, *self.size, self._x.ZPixmap, 0xFFFFFFFF)
        picture = Image.frombytes("RGB", self.size, image.data, "raw", "BGRX")
        picture.save(place, optimize=True)

    def close(self) -> None:
        """Leave."""
        self._link.close()

    def _codes(self, name: str) -> list[int]:
        """Codes of a key, Shift before it where its sign needs that."""
        keysym = self._keysyms.string_to_keysym(name)
        code, shift = min(self._link.keysym_to_keycodes(keysym), key=lambda pair: pair[1])
        held = self._link.keysym_to_keycode(self._keysyms.XK_Shift_L)
        return [held, code] if shift else [code]

    def _look_at_the_top(self) -> None:
        seen = [
            window
            for window in self._root.query_tree().children
            if (had := window.get_attributes()).map_state == self._x.IsViewable
            and not had.override_redirect
        ]
        if seen and self._link.get_input_focus().focus != seen[-1]:
            seen[-1].set_input_focus(self._x.RevertToParent, self._x.CurrentTime)
            self._link.sync()


@contextmanager
def screen(size: tuple[int, int] = SIZE) -> Iterator[Screen]:
    """A new screen of a size, px; it goes with everything on it."""
    ear, mouth = os.pipe()
    words = ["Xvfb", "-displayfd", str(mouth), "-screen", "0", f"{size[0]}x{size[1]}x24"]
    server = subprocess.Popen(
        [*words, "-nolisten", "tcp"], pass_fds=(mouth,), stderr=subprocess.DEVNULL
    )
    os.close(mouth)
    try:
        heard, _, _ = select.select([ear], [], [], PATIENCE)
        number = os.read(ear, 16).decode().strip() if heard else ""
        assert number, "Xvfb did not come up"
        shown = Screen(f":{number}", size)
        try:
            yield shown
        finally:
            shown.close()
    finally:
        os.close(ear)
        server.terminate()
        server.wait(PATIENCE)
