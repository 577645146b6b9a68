"""Every frame of a clip says what `bindpoint pose --json` says of the same pose and turn.

The data are those that the command prints: each computed from the rig anew, by nothing that the
window has found before.
"""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from sim.check import check
from sim.pose import check_pose
from sim.rig import load_rig
from tests.viewer.session.conftest import RIGS, Scripted
from tests.viewer.window.customer.shown import StubView
from viewer.commands.pose import posed_data
from viewer.draw.base import Image
from viewer.session.moving.drives import DRIVES, Drive
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.window.customer.recording import Frame, Recording, Shot, shots_of
from viewer.window.customer.view import CustomerView
from viewer.words.units import exact, format_fine, format_length
from viewer.written.caption import Caption

EVERY = 5
"""Frames from one that is looked at to the next; those about the stop are all looked at."""


@pytest.fixture
def opened(worker: Scripted, tmp_path: Path) -> Iterator[dict[str, Session]]:
    """Sessions by name, opened when asked for; "hit" is the wagon with a low crossmember."""

    class Opened(dict[str, Session]):
        def __missing__(self, name: str) -> Session:
            demo = "long-legged-trail-wagon" if name == "hit" else name
            text = (RIGS / f"{demo}.toml").read_text(encoding="utf-8")
            path = tmp_path / f"{name}.toml"
            low = text.replace('"30 in", "0 in", "13 in"', '"30 in", "0 in", "11 in"')
            path.write_text(low if name == "hit" else text, encoding="utf-8")
            self[name] = session = Session(Document.open(path), worker)
            worker.say(answer=check(load_rig(path)), share=1.0)
            session.tick()
            return session

    made = Opened()
    yield made
    for session in made.values():
        session.close()


def filmed(session: Session, shots: list[Shot], qtbot: QtBot) -> list[Caption]:
    """The words under each frame of a clip of these shots, made as the customer view makes it."""
    view = CustomerView(session, None, StubView, None)
    qtbot.addWidget(view)
    captions: list[Caption] = []

    def draw() -> Iterator[Image | None]:
        yield np.zeros((4, 4, 3), dtype=np.uint8)

    def write(frames: Iterator[Frame], *_: object) -> None:
        captions.extend(caption for _, caption in frames)

    recording = Recording(session, shots, draw, view.caption, write)
    with qtbot.waitSignal(recording.ended, timeout=100_000):
        recording.start()
    view.close()
    return captions


def some_of(shots: list[Shot], around: int) -> list[Shot]:
    """Every few of them, and all around one."""
    return [s for i, s in enumerate(shots) if i % EVERY == 0 or abs(i - around) <= EVERY]


def says_what_pose_says(session: Session, shot: Shot, caption: Caption) -> None:
    """Verdict, and the gap at what the drive is about, against the command's data."""
    data = posed_data(check_pose(session.document.rig, shot.at, shot.spin), "")
    (side,) = caption.sides
    assert side.verdict == data["verdict"]
    if shot.about is None or shot.about.subject in data["joints"]:
        named = caption.gap.partition(" ")[0].lower()
        joint = data["joints"][shot.about.subject if shot.about is not None else named]
        assert caption.gap.endswith(f"at this turn of the shaft: {_room(joint)}.")
    elif shot.about.code == "slip-opens":
        left = data["opens_left_mm"]
        said = f"{format_length(left)} left" if left > 0.0 else "short"
        said = "nothing left" if abs(left) < 1e-3 else said
        assert said in caption.gap
    elif shot.about.code == "surroundings":
        (near,) = data["surroundings"]
        said = "touches" if near["gap_mm"] == 0.0 else f"{format_fine(near['gap_mm'])} from"
        assert said in caption.gap
    else:
        pytest.fail(f"nothing is known of {shot.about.code}")


def _room(joint: dict[str, object]) -> str:
    gap = float(str(joint["gap_mm"]))
    if joint["overlaps"]:
        return "metal in metal"
    return f"gap {format_fine(gap) if gap >= 0.1 else exact(gap)}"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "subject"),
    [
        ("long-legged-trail-wagon", "pinion"),
        ("long-legged-trail-wagon", "output"),
        ("marsh-runner", "pinion"),
        ("goat-path-buggy", "slip"),
        ("hit", "crossmember"),
    ],
)
def test_frames_of_a_drive_to_the_bind_say_what_pose_says(
    opened: dict[str, Session], qtbot: QtBot, name: str, subject: str
) -> None:
    session = opened[name]
    drive = next(
        each for each in session.binds
        if each.finding.subject == subject and each.finding.verdict == "touches"
    )  # fmt: skip
    whole = shots_of(session, drive)
    stop = next(i for i, shot in enumerate(whole) if shot.note == drive.stopped_says())
    assert sum(shot.times for shot in whole if shot.note == drive.stopped_says()) >= 10
    shots = some_of(whole, stop)
    captions = filmed(session, [shot._replace(times=1) for shot in shots], qtbot)
    assert len(captions) == len(shots)
    for shot, caption in zip(shots, captions, strict=True):
        says_what_pose_says(session, shot, caption)
        assert caption.note == shot.note
    verdicts = [caption.sides[0].verdict for caption in captions]
    assert verdicts[0] == "clear"
    assert verdicts[-1] == "touches"
    if drive is session.binds[0]:  # on the way to another, the worst is met already
        first = verdicts.index("touches")
        assert shots[first].at == whole[stop].at, "not before it stops, and there"


@pytest.mark.slow
@pytest.mark.parametrize("name", [demo.stem for demo in sorted(RIGS.glob("*.toml"))])
def test_no_clip_is_clear_all_along_of_a_rig_that_touches(
    opened: dict[str, Session], qtbot: QtBot, name: str
) -> None:
    """Or else each of its frames says what is left out."""
    session = opened[name]
    touches = session.binds[0].check.verdict == "touches"
    for drive in session.drives:
        shots = shots_of(session, drive)[::EVERY]
        captions = filmed(session, shots, qtbot) if touches else []
        clear = all(caption.sides[0].verdict != "touches" for caption in captions)
        if touches and clear:
            assert {caption.note for caption in captions} == {session.left_out(drive)}
            assert session.left_out(drive).startswith("This drive leaves out: ")
        elif not touches:
            assert session.left_out(drive) == ""


@pytest.mark.parametrize(
    ("drive", "says"),
    [
        ("droop", "crossed up, 4.0 deg nose down. The pinion joint binds there."),
        ("bump", "3 11/16 in droop, crossed up, 4.0 deg nose down. The pinion joint binds there."),
    ],
)
def test_what_a_drive_leaves_out_is_said_in_a_line(
    opened: dict[str, Session], drive: str, says: str
) -> None:
    """Level and unwrapped the wagon binds at 7 in of droop, so that `droop` runs into it."""
    session = opened["long-legged-trail-wagon"]
    left: Drive = DRIVES[drive]
    expected = "" if drive == "droop" else f"This drive leaves out: {says}"
    assert session.left_out(left) == expected
