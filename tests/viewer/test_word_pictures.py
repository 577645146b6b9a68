"""The pictures of an inspection's words: one for each word, in its own place, as it is drawn."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sim.seen.inspection import Inspection
from sim.table.part import Part
from sim.table.structure import fields_of, parts_of, words_of
from tests.viewer.recording_stage import RecordingStage
from tests.word_pictures import PRINTED, SHIPPED, drawn
from viewer.seen.pictures import COLUMNS, LISTS, TILE, WORDS, called, sheet_file, tile_of
from viewer.seen.pictures_marks import PAGE
from viewer.seen.pictures_sheet import Pictures, whole_sheet
from viewer.seen.pictures_table import DRAWINGS

WITHOUT = {"schema", "kind", "history", "symptoms", "came", "joint", "head_cross", "marks", "play"}
"""What is told or chosen by name, and not seen on a part."""


def _lists(part: type[Part], path: str = "") -> Iterator[tuple[str, tuple[str, ...]]]:
    """Key and words of every closed list of an inspection."""
    for name, info in fields_of(part).items():
        key = f"{path}.{name}".lstrip(".")
        if key in WITHOUT:
            continue
        if words := words_of(info.annotation):
            yield key, tuple(words)
        for inner in parts_of(info.annotation):
            yield from _lists(inner, key)


def test_every_word_that_is_seen_on_a_part_has_a_picture() -> None:
    seen = dict(_lists(Inspection))
    assert len(seen) >= 15
    for key, words in seen.items():
        assert [word for word in words if tile_of(key, word) is None] == [], key
    assert {key: tuple(row) for key, row in DRAWINGS.items()} == LISTS


def test_what_has_none_says_so() -> None:
    assert tile_of("history.water", "often") is None
    assert tile_of("caps.shaft_a.seen", "shiny") is None


def test_caps_and_yokes_share_their_pictures() -> None:
    places = {tile_of(f"caps.{cap}.trunnion", "flakes") for cap in ("shaft_a", "end_b")}
    assert places == {tile_of("caps.trunnion", "flakes")}


def test_pictures_fill_the_sheet_and_none_lies_on_another() -> None:
    tiles = [tile_of(*each) for each in WORDS]
    assert None not in tiles
    assert len(set(tiles)) == len(WORDS)
    with sheet_file().open("rb") as stream, Image.open(stream) as image:
        assert image.size == whole_sheet().size == (COLUMNS * TILE[0], 10 * TILE[1])


@pytest.mark.slow
def test_paint_lies_on_its_own_picture_and_on_places_of_its_view() -> None:
    """A mark that hangs out into the neighbor's picture would be read as of that."""
    out = []
    for key, row in DRAWINGS.items():
        for word, drawing in row.items():
            assert {mark.place for mark in drawing.marks} <= {*drawing.view().places, PAGE}
            stage = RecordingStage(TILE)
            Pictures((drawing,), columns=1).draw(stage, stage.region)
            painted = [np.asarray(call.told["segments"]) for call in stage.of("stroke")]
            points = np.concatenate([np.empty((0, 2)), *(each.reshape(-1, 2) for each in painted)])
            if (points < -4.0).any() or (points > np.array(TILE) + 4.0).any():
                out.append((key, word, points.min(axis=0).round(), points.max(axis=0).round()))
    assert out == []


@pytest.mark.slow
def test_what_is_printed_has_every_word_and_says_that_it_is_no_finding() -> None:
    sheet = whole_sheet(labelled=True)
    stage = RecordingStage(sheet.size)
    sheet.draw(stage, stage.region)
    said = [str(call.told["text"]) for call in stage.of("write")]
    assert "None of it is a finding" in " ".join(said[:2])
    assert said[2:] == [f"{called(key)}: {word}" for key, word in WORDS]
    assert len(set(said)) == len(said)
    lines = [float(call.told["at"][1]) for call in stage.of("write")[:2]]
    assert max(region.top for region in stage.regions.values()) <= min(lines)
    assert min(region.bottom for region in stage.regions.values()) > 0.0


@pytest.mark.slow
def test_a_picture_is_drawn_where_its_word_looks_for_it() -> None:
    sheet = whole_sheet()
    stage = RecordingStage(sheet.size)
    sheet.draw(stage, stage.region)
    for number, each in enumerate(WORDS):
        region, tile = stage.regions[f"picture {number}"], tile_of(*each)
        assert tile is not None
        assert (region.left, sheet.size[1] - region.top) == (tile.left, tile.top)
        assert (region.width, region.height) == (tile.width, tile.height)


def test_the_colors_of_the_trade_are_where_they_belong() -> None:
    """Blue where it burned, red-brown where it rusted, more than on any other picture of a cap."""
    with sheet_file().open("rb") as stream, Image.open(stream) as image:
        colours = np.asarray(image.convert("RGB")).astype(float)

    def share(word: str, way: tuple[float, float, float]) -> float:
        tile = tile_of("caps.seen", word)
        assert tile is not None
        part = colours[tile.top : tile.top + tile.height, tile.left : tile.left + tile.width]
        return float((part @ np.array(way) > 50.0).mean())

    blue, rust = (-0.5, -0.5, 1.0), (1.0, -0.5, -0.5)
    of_caps = LISTS["caps.seen"]
    assert max(of_caps, key=lambda word: share(word, blue)) == "burned blue"
    rusty = {word for word in of_caps if share(word, rust) > 0.004}
    assert "rust dust" in rusty
    assert not rusty & {"burned blue", "cracked", "seal torn"}


def test_they_take_little_room() -> None:
    """Less than a megabyte, with the sheet of the docs."""
    assert SHIPPED.stat().st_size + PRINTED.stat().st_size < 1_000_000


@pytest.mark.slow
@pytest.mark.needs_gl
def test_what_is_shipped_is_what_is_drawn(tmp_path: Path) -> None:
    """Picture by picture, but for the few colors it is kept in and the edges of a driver."""
    now = np.asarray(drawn(False, tmp_path / "now.png")).astype(float)
    with sheet_file().open("rb") as stream, Image.open(stream) as image:
        kept = np.asarray(image.convert("RGB")).astype(float)
    apart = []
    for each in WORDS:
        tile = tile_of(*each)
        assert tile is not None
        part = np.s_[tile.top : tile.top + tile.height, tile.left : tile.left + tile.width]
        if np.abs(now[part] - kept[part]).mean() > 4.0:
            apart.append(each)
    assert apart == [], "python -m tests.word_pictures draws them anew"


def test_no_two_words_of_a_list_look_the_same() -> None:
    """In grey and at half size, as on paper: the mean difference of any two is plain to see."""
    with sheet_file().open("rb") as stream, Image.open(stream) as image:
        grey = image.convert("RGB").convert("L")
    alike = []
    for key, row in LISTS.items():
        small = []
        for word in row:
            tile = tile_of(key, word)
            assert tile is not None
            box = tile.left, tile.top, tile.left + tile.width, tile.top + tile.height
            small.append(np.asarray(grey.crop(box).resize((120, 90))).astype(float))
        for i, one in enumerate(small):
            for j in range(i):
                changed = (np.abs(one - small[j]) > 40.0).mean()
                if changed < 0.008:
                    alike.append((key, row[i], row[j], float(changed)))
    assert alike == []
