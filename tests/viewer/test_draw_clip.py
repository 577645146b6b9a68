"""Pictures and clips carry their words, stand still, and are written whole or not at all."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image as Pictures
from PIL import ImageSequence

from sim.findings import ORDER, Verdict
from viewer.draw.base import Image
from viewer.draw.rows import broken
from viewer.words.verdicts import CAUTION
from viewer.written.caption import (
    PAPER,
    Caption,
    Side,
    captioned,
    ink_of,
    last_page,
    save_captioned,
    side_by_side,
)
from viewer.written.clip import FRAME_TIME, RESTS, WIDEST, ClipStoppedError, save_clip
from viewer.written.files import FileError


def caption(
    verdict: Verdict = "touches",
    says: str = "The pinion joint binds.",
    whole: Verdict = "touches",
    whole_word: str = "WHOLE",
    names: tuple[str, ...] = ("",),
) -> Caption:
    title = "Wagon, rear shaft \N{BULLET} 25 Nov 2026"
    sides = tuple(Side(verdict, "WORD", whole, whole_word, says, name) for name in names)
    return Caption(title, sides, ("Measured: all.", "Assumed: nothing."), CAUTION)


def frame(shade: int, width: int = 400, height: int = 250) -> Image:
    return np.full((height, width, 3), shade, dtype=np.uint8)


def test_the_picture_stays_as_it_is_above_the_words(tmp_path: Path) -> None:
    noise = np.random.default_rng(1).integers(0, 255, (250, 400, 3)).astype(np.uint8)
    save_captioned(noise, caption(), tmp_path / "a.png")
    with Pictures.open(tmp_path / "a.png") as page:
        got = np.asarray(page.convert("RGB"))
    np.testing.assert_array_equal(got[:250], noise)
    band = got[250:]
    assert tuple(band[-1, -1]) == PAPER
    assert len(band) > 60


@pytest.mark.parametrize("verdict", ORDER)
def test_the_mark_of_the_verdict_is_shown(verdict: Verdict) -> None:
    band = np.asarray(captioned(frame(0), caption(verdict)))[250:]
    assert (band == ink_of(verdict)).all(axis=-1).sum() > 60


@pytest.mark.parametrize("width", [320, 640, 1400])
@pytest.mark.parametrize("whole", ORDER)
def test_the_verdict_on_the_whole_travel_stands_below_that_of_the_position(
    whole: Verdict, width: int
) -> None:
    here: Verdict = "clear" if whole != "clear" else "touches"
    page = np.asarray(captioned(frame(0, width), caption(here, whole=whole)))[250:]
    rows = {
        verdict: np.flatnonzero((page == ink_of(verdict)).all(axis=-1).any(axis=-1))
        for verdict in (here, whole)
    }
    assert rows[here].max() < rows[whole].min()
    high = {verdict: np.ptp(rows[verdict]) for verdict in rows}
    assert 0.6 * high[here] < high[whole] < high[here], "hardly smaller"
    other = np.asarray(captioned(frame(0, width), caption(here, whole=whole, whole_word="OTHER")))
    assert not np.array_equal(page, other[250:]), "its word is written"


def test_the_band_is_as_high_whatever_is_said() -> None:
    short = captioned(frame(0), caption(says="Clear."))
    long = captioned(frame(0), caption(says="Close at 2 1/4 in droop, crossed up 4 deg: " * 4))
    assert short.size == long.size


def test_every_word_is_written_and_none_beyond_the_edge() -> None:
    said = "some words that have to be broken into rows of at most twenty letters"
    rows = broken(said, lambda row: len(row) <= 20)
    assert " ".join(rows) == said
    assert max(map(len, rows)) <= 20
    assert broken("unbreakable", lambda _: False) == ["unbreakable"]
    for text in (CAUTION, "word " * 60):
        band = np.asarray(captioned(frame(0), caption(says=text)))[250:]
        assert (band[:, -3:] == PAPER).all()
        assert (band[-3:] == PAPER).all()


def test_two_pictures_stand_side_by_side_each_over_its_own_words() -> None:
    left, right = frame(10), frame(200, height=240)
    both = side_by_side(left, right)
    np.testing.assert_array_equal(both[:, :400], left)
    np.testing.assert_array_equal(both[:240, -400:], right)
    assert (both[240:, -400:] == PAPER).all()
    said = Caption(
        "Wagon",
        (
            Side("touches", "TOUCHES", "touches", "TOUCHES", "It binds.", "As it is"),
            Side("clear", "CLEAR", "clear", "CLEAR", "It does not.", "With the cure"),
        ),
        (),
        CAUTION,
    )
    band = np.asarray(captioned(both, said))[250:]
    for verdict, own, others in (
        ("touches", band[:, :400], band[:, 400:]),
        ("clear", band[:, 400:], band[:, :400]),
    ):
        assert (own == ink_of(verdict)).all(axis=-1).sum() > 60
        assert not (others == ink_of(verdict)).all(axis=-1).any()
    swapped = Caption(said.title, said.sides[::-1], said.notes, said.caution)
    assert captioned(both, swapped).size == captioned(both, said).size


def test_what_was_measured_and_assumed_is_written() -> None:
    with_notes = captioned(frame(0), caption())
    without = captioned(frame(0), Caption("Wagon", caption().sides, (), CAUTION))
    assert with_notes.height > without.height


def test_a_clip_has_what_it_rests_on_on_its_last_page_and_more_room_for_its_picture() -> None:
    without = captioned(frame(0), caption(), notes=False)
    assert without.height < captioned(frame(0), caption()).height
    page = np.asarray(last_page(caption(), without.size))
    assert page.shape[:2] == (without.height, without.width)
    bare = Caption("Wagon", caption().sides, (), CAUTION)
    assert not np.array_equal(page, last_page(bare, without.size)), "the notes are written"
    crowded = Caption("Wagon", caption().sides, ("Measured: a lot. " * 20,) * 2, CAUTION)
    low = np.asarray(last_page(crowded, (640, 480)))
    assert (low[-3:] == PAPER).all(), "letters get smaller until all of it is there"
    assert (low[:3] == PAPER).all()


def test_letters_of_many_languages_are_known() -> None:
    one = np.asarray(captioned(frame(0), caption(says="\u0414\u0436\u0438\u043f")))
    other = np.asarray(captioned(frame(0), caption(says="\u0416\u0434\u0438\u043f")))
    assert not np.array_equal(one, other), "stand-ins for unknown letters would be all alike"


def test_a_clip_has_every_frame_in_its_time_and_goes_round(tmp_path: Path) -> None:
    heard: list[int] = []
    ramp = np.broadcast_to(np.linspace(0.0, 255.0, 400)[None, :, None], (250, 400, 3))
    shots = [
        (np.roll(ramp, 40 * n, axis=1).astype(np.uint8), caption(says=f"Frame {n}"))
        for n in range(8)
    ]
    assert save_clip(iter(shots), tmp_path / "a.gif", heard.append) == 8
    assert heard == list(range(1, 9))
    with Pictures.open(tmp_path / "a.gif") as clip:
        assert clip.info["loop"] == 0
        seen = [
            (each.info["duration"], each.convert("RGB").getpixel((200, 100)))
            for each in ImageSequence.Iterator(clip)
        ]
    *frames, (rests, _) = seen
    assert [time for time, _ in frames] == [FRAME_TIME] * 8
    assert rests == RESTS, "the last page stands long enough to be read"
    np.testing.assert_allclose(
        [shade for _, shade in frames],
        [[int(shot[100, 200, 0])] * 3 for shot, _ in shots],
        rtol=0.0,
        atol=8.0,
    )


def test_marks_that_come_later_keep_their_colours(tmp_path: Path) -> None:
    """The colours are those of the first frame, which may be clear all over."""
    shots = [(frame(200), caption(verdict)) for verdict in ORDER]
    save_clip(shots, tmp_path / "a.gif")
    with Pictures.open(tmp_path / "a.gif") as clip:
        frames = [each.copy() for each in ImageSequence.Iterator(clip)][:-1]
        for verdict, each in zip(ORDER, frames, strict=True):
            band = np.asarray(each.convert("RGB"))[250:].astype(int)
            apart = np.abs(band - ink_of(verdict)).max(axis=-1)
            assert (apart < 16).sum() > 60, verdict


def test_a_clip_is_small_enough_to_send(tmp_path: Path) -> None:
    noise = np.random.default_rng(1).integers(0, 255, (900, 1600, 3)).astype(np.uint8)
    save_clip([(noise, caption())], tmp_path / "a.gif")
    with Pictures.open(tmp_path / "a.gif") as clip:
        assert clip.width == WIDEST


def test_stopping_writes_nothing_and_leaves_the_old_file(tmp_path: Path) -> None:
    target = tmp_path / "a.gif"
    target.write_bytes(b"old")
    count = 0

    def shots() -> Iterator[tuple[Image, Caption]]:
        nonlocal count
        while True:
            count += 1
            yield frame(count % 200), caption()

    with pytest.raises(ClipStoppedError):
        save_clip(shots(), target, stopped=lambda: count > 3)
    assert count == 4
    with pytest.raises(ClipStoppedError):
        save_clip([], target, stopped=lambda: True)
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_a_place_that_cannot_be_written_is_one_line(tmp_path: Path) -> None:
    for write in (
        lambda: save_clip([(frame(0), caption())], tmp_path / "no" / "a.gif"),
        lambda: save_captioned(frame(0), caption(), tmp_path / "no" / "a.png"),
        lambda: save_clip([], tmp_path / "a.gif"),
    ):
        with pytest.raises(FileError, match=str(tmp_path)) as raised:
            write()
        assert "\n" not in str(raised.value)
