"""The picture is the main thing: measured on screens of the sizes that are in shops."""

import os
from pathlib import Path

import pytest

from tests.viewer.window.hands import Hands
from tests.viewer.window.screen import screen
from viewer.session.kept.window_state import WindowState, keep_state

pytestmark = [pytest.mark.slow, pytest.mark.needs_screen]

RIG = "demo:long-legged-trail-wagon"

SCREENS = [
    ((1600, 1000), 1.0),
    ((1366, 768), 1.0),
    ((1024, 700), 1.0),
    ((1600, 1000), 1.5),
    ((1366, 768), 1.5),
]
"""Pixels, and how many there are to each of a screen of 96 dots an inch: 1.5 is 144 dpi."""


@pytest.mark.parametrize(("size", "ratio"), SCREENS)
def test_the_picture_has_half_of_the_window(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, size: tuple[int, int], ratio: float
) -> None:
    """At the first start, with a hint over it all: what OpenGL draws on, without its bar."""
    monkeypatch.setenv("QT_SCALE_FACTOR", str(ratio))
    wide, high = (round(side / ratio) for side in size)
    keep_state(WindowState((0, 0, wide, high)))
    shots = Path(os.environ.get("BINDPOINT_SHOTS") or tmp_path / "shots")
    with screen(size) as shown:
        hands = Hands(shown, tmp_path, shots)
        try:
            hands.start(RIG)
            hands.settled()
            hands.shot(f"{size[0]}x{size[1]}-at-{ratio}")
            picture = hands.find("Shaft in 3D")["place"]
            for button in ("Got it", "No more hints"):
                hands.find(button)
        finally:
            hands.kill()
    assert picture[2] * picture[3] >= 0.5 * wide * high
