"""Show me: the drive to the bind, in the customer view."""

from pathlib import Path

import pytest
from PIL import Image as Pictures
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.window.customer.shown import height, pair, times_of, try_it
from tests.viewer.window.scripted import Scripted
from viewer.session.session import Session
from viewer.window.customer.recording import shots_of
from viewer.window.customer.view import CustomerView
from viewer.written.caption import Caption
from viewer.written.clip import FRAME_TIME, RESTS


def test_show_me_plays_to_the_bind_stops_and_pushes_on(
    view: CustomerView, session: Session
) -> None:
    motion = session.motion
    assert view.show_me.text() == "&Show me"
    view.show_me.click()
    assert motion.playing
    assert view.show_me.text() == "&Stop"
    view.show_me.click()
    assert motion.drive is None
    view.show_me.click()
    while motion.playing:
        motion.advance(0.2)
    assert motion.stands
    assert view.show_me.text() == "Push o&n"
    assert view.told.isVisible()
    assert view.told.text() == motion.said != ""
    assert session.now is not None
    view.show_me.click()
    while motion.playing:
        motion.advance(0.2)
    assert view.show_me.text() == "&Show me"
    assert view.told.text() == motion.said


def test_beside_a_cure_the_drive_is_that_of_the_rig_as_it_is(
    offered: CustomerView, session: Session, worker: Worker, qtbot: QtBot
) -> None:
    try_it(offered, session, worker)
    offered.show_me.click()
    before = offered.stage.motion
    assert before is not session.motion
    assert before.playing
    was = before.at
    qtbot.waitUntil(lambda: before.at != was, timeout=10_000)
    before.advance(60.0)
    assert before.stands
    low, _ = session.motion.bounds("travel")
    assert session.motion.at.travel == max(before.at.travel, low)
    assert offered.told.text() == before.said
    height(offered).setValue(0)
    assert before.drive is None, "a hand on a slider ends the drive"


@pytest.mark.slow
def test_a_clip_of_both_is_the_drive_of_the_left_one(
    offered: CustomerView,
    session: Session,
    worker: Worker,
    ask: Scripted,
    tmp_path: Path,
    qtbot: QtBot,
) -> None:
    try_it(offered, session, worker)
    left, right = pair(offered)
    drive = offered.stage.drives[0]
    shots = shots_of(left.session, drive, 2 * FRAME_TIME)
    written: list[Caption] = []
    made = offered.caption
    offered.caption = lambda: written.append(made()) or written[-1]  # type: ignore[method-assign]
    ask.answers.append(tmp_path / "both.gif")
    offered.clip.click()
    qtbot.waitUntil(lambda: not offered.is_busy, timeout=100_000)
    assert offered.done_words.text() == "Saved both.gif."
    low = -101.6
    assert [shot[0] for shot in left.shots] == [shot.at.travel for shot in shots]
    seen = [shot[0] for shot in right.shots]
    assert seen == pytest.approx([max(low, shot.at.travel) for shot in shots], abs=1e-6)
    assert {caption.sides[0].verdict for caption in written} >= {"clear", "touches"}
    assert len({caption.notes for caption in written}) == 1, "the words stand still"
    with Pictures.open(tmp_path / "both.gif") as clip:
        length = sum(times_of(clip))
    frames = sum(shot.times for shot in shots)
    assert length == pytest.approx(2 * FRAME_TIME * frames + RESTS, abs=2.0 * FRAME_TIME)
