"""All frames of a clip are of one size, whatever its drive says in them: nothing is cut off."""

from dataclasses import replace

import numpy as np
import pytest

from tests.viewer.session.conftest import open_rig, worker
from viewer.session.session import Session
from viewer.session.told.picture_words import picture_side, picture_title
from viewer.window.customer.recording import Shot, shots_of
from viewer.window.customer.view import BEFORE, NOW
from viewer.words.drives import gap_line
from viewer.words.verdicts import CAUTION
from viewer.written.caption import Caption, Side, captioned
from viewer.written.clip import WIDEST

__all__ = ["open_rig", "worker"]

EVERY = 4
"""Frames from one that is looked at to the next; those that stand still are all looked at."""


def captions(session: Session, shot: Shot) -> tuple[Caption, Caption]:
    """The words under a frame: of one picture, and of two side by side."""
    session.motion.go_to(shot.at, shot.spin)
    now = session.now
    assert now is not None
    one = picture_side(session, "")
    gap = gap_line(now, shot.about)
    alone = Caption(picture_title(session), (one,), (), CAUTION, gap, shot.note)
    both = tuple(replace(one, name=name) for name in (BEFORE, NOW))
    return alone, replace(alone, sides=both, gap=f"{BEFORE}: {gap}" if gap else gap)


@pytest.mark.slow
@pytest.mark.parametrize("width", [WIDEST, 480])
@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "goat-path-buggy"])
def test_frames_of_a_clip_are_of_one_height(open_rig, name: str, width: int) -> None:
    session = open_rig(name)
    for drive in session.drives:
        shots = shots_of(session, drive)
        seen = [s for i, s in enumerate(shots) if i % EVERY == 0 or s.times > 1]
        frames = [captions(session, shot) for shot in seen]
        for number, wide in enumerate((width, width * 3 // 2)):
            frame = np.zeros((8, wide, 3), dtype=np.uint8)
            sizes = {captioned(frame, each[number], notes=False).size for each in frames}
            assert len(sizes) == 1, (drive.name, wide, sizes)


@pytest.mark.parametrize("count", [1, 2])
@pytest.mark.parametrize("width", [240, 320, 480, WIDEST, 960])
def test_so_they_are_whatever_there_is_to_say(width: int, count: int) -> None:
    """Even where the words are far too many for so narrow a frame."""
    frame = np.zeros((8, width, 3), dtype=np.uint8)

    def size(words: int) -> tuple[int, int]:
        text = "crossed up " * words
        side = Side("touches", "TOUCHES", "close", "CLOSE", text)
        caption = Caption("A wagon", (side,) * count, (), CAUTION, text, text)
        return captioned(frame, caption, notes=False).size

    assert {size(words) for words in (1, 5, 20, 60)} == {size(1)}
