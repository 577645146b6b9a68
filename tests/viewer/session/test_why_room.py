"""An inspection being written: ticks, measures, marks, undo, and the joint it is of; no window."""

import tomllib
from collections.abc import Callable
from math import pi
from pathlib import Path

import numpy as np
import pytest

from geometry.clock import clock
from sim.rig import RigError
from sim.seen import load_inspection, signs_of
from viewer.inspections import beside_rig
from viewer.scene.apart import Place, place_of, skin_told, spot_of, told_of, yoke_name
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.why.inspected import Inspected
from viewer.session.why.room import STORY, TABLES, WhyRoom
from viewer.session.why.rows import Row, rows_of
from viewer.words.apart import NOTHING_FOUND, clock_text

DEMOS = Path(__file__).parents[3] / "models" / "inspections"


@pytest.fixture
def room(open_rig: Callable[..., Session]) -> WhyRoom:
    return WhyRoom(open_rig())


def row(key: str) -> Row:
    table = key.rpartition(".")[0]
    return next(each for each in rows_of(table) if each.key == key)


def test_a_fresh_one_says_nothing_and_need_not_be_saved(room: WhyRoom) -> None:
    assert room.file.inspection.is_blank
    assert not room.file.is_dirty
    assert signs_of(room.file.inspection) == {}
    assert room.said() == {}


def test_a_word_is_seen_not_there_or_not_looked_at(room: WhyRoom) -> None:
    seen = row("caps.end_a.seen")
    assert {room.told(seen, word) for word in seen.words} == {"not looked at"}
    room.tick(seen, "rust dust")
    room.tick(seen, "dry")
    assert room.told(seen, "dry") == room.told(seen, "rust dust") == "seen"
    assert room.told(seen, "spun") == "not there"
    # In the order of the schema, in whichever they were ticked.
    assert room.data["caps"]["end_a"]["seen"] == ["dry", "rust dust"]
    room.tick(seen, "dry")
    room.tick(seen, "rust dust")
    assert room.told(seen, "dry") == "not there"
    assert room.said() == {"caps.end_a": NOTHING_FOUND}
    room.forget(seen)
    assert room.told(seen, "dry") == "not looked at"
    # No empty tables are left: the text is as it was.
    assert "caps" not in room.data


def test_every_step_is_taken_back_and_brought_again(room: WhyRoom) -> None:
    start = room.file.text
    texts = [start]
    for key, word in (("caps.end_a.seen", "dry"), ("cross.seen", "cracked")):
        room.tick(row(key), word)
        texts.append(room.file.text)
    room.find_nothing(row("yokes.shaft.tips"))
    texts.append(room.file.text)
    room.add_mark(Place("end", "ear tip", 0.5 * pi))
    for text in reversed(texts):
        room.file.undo()
        assert room.file.text == text
    assert not room.file.is_dirty
    for text in texts[1:]:
        room.file.redo()
        assert room.file.text == text


def test_what_cannot_be_right_stays_where_it_was_typed(room: WhyRoom) -> None:
    room.tick(row("caps.end_a.seen"), "dry")
    room.tell(row("caps.end_a.gouge"), "10 bananas")
    assert room.data["caps"]["end_a"]["gouge"] == "10 bananas"
    assert "banana" in room.problem("caps.end_a.gouge")
    assert not room.file.is_right
    # What was right last is what is told of the joint.
    assert room.file.inspection.cap("end_a").seen == ("dry",)
    room.tell(row("caps.end_a.gouge"), "0.010 in")
    assert room.file.is_right
    assert room.problem("caps.end_a.gouge") == ""


def test_a_mark_keeps_its_place_and_what_is_said_of_it(room: WhyRoom) -> None:
    room.add_mark(Place("end", "ear tip", pi / 2.0))
    room.add_mark(Place("shaft", "throat", 1.25 * pi))
    room.change_mark(0, "depth", "0.030 in")
    room.change_mark(1, "pair", value=True)
    first, second = room.file.inspection.marks or ()
    assert (first.surface, first.clock, first.depth) == ("ear tip", "3 o'clock", first.depth)
    assert second.pair is True
    assert second.clock == "7:30"
    np.testing.assert_allclose(
        [place.clock for place in room.marks()], [pi / 2.0, 1.25 * pi], rtol=0.0, atol=1e-12
    )
    room.drop_mark(0)
    assert len(room.marks()) == 1
    room.drop_mark(0)
    assert room.file.inspection.marks is None


@pytest.mark.parametrize("hour", range(12))
def test_a_clock_is_said_as_it_is_read(hour: int) -> None:
    from sim.seen import clock_angle

    for quarter in range(4):
        angle = 2.0 * pi * (hour + 0.25 * quarter) / 12.0
        assert clock_angle(clock_text(angle)) == pytest.approx(angle, abs=1e-12)
    assert clock_text(2.0 * pi - 1e-6) == "12 o'clock"


@pytest.mark.parametrize("side", ["shaft", "end"])
def test_a_click_on_the_metal_finds_the_surface_and_the_clock_of_a_mark(
    room: WhyRoom, side: str
) -> None:
    apart = room.apart
    assert apart is not None
    yoke, part = apart.yokes[side], apart.named(yoke_name(side))  # type: ignore[index, arg-type]
    assert part is not None
    for surface in ("ear tip", "throat"):
        for hour in (0.0, 0.5 * pi, pi, 1.5 * pi):
            found = spot_of(yoke, surface, hour)
            assert found is not None
            at = part.X_CP[:3, :3] @ found[0] + part.X_CP[:3, 3]
            place = place_of(apart, part, at)
            assert place is not None
            assert (place.yoke, place.surface) == (side, surface)
            # The surface may not reach that hour; then it is the nearest there is of it.
            assert place.clock == pytest.approx(float(clock(found[0])), abs=1e-6)
    assert spot_of(yoke, "no such surface", 0.0) is None


def test_a_click_on_a_seat_is_on_the_ear_and_not_on_the_strap_that_came_off(
    room: WhyRoom,
) -> None:
    """Every vertex of the bare forging is on a surface of the forging."""
    apart = room.apart
    assert apart is not None
    part = apart.named(yoke_name("end"))
    assert part is not None
    body = apart.yokes["end"].parts["body"].vertices
    near = body[np.linalg.norm(body, axis=1) < 60.0][::40]
    surfaces = set()
    for own in near:
        place = place_of(apart, part, part.X_CP[:3, :3] @ own + part.X_CP[:3, 3])
        assert place is not None
        surfaces.add(place.surface)
    assert surfaces >= {"ear outside face", "throat"}
    assert not surfaces & {"strap", "bolt", "cap"}


@pytest.mark.parametrize(
    ("side", "surface", "words"),
    [
        ("shaft", "ear bore", "seat"),
        ("end", "saddle", "seat"),
        ("end", "ear outside face", "ear"),
        ("shaft", "ear tip", "tips"),
        ("end", "throat", "throat"),
    ],
)
def test_a_click_on_a_forging_brings_the_words_of_that_place(
    room: WhyRoom, side: str, surface: str, words: str
) -> None:
    apart = room.apart
    assert apart is not None
    part = apart.named(yoke_name(side))  # type: ignore[arg-type]
    assert part is not None
    body = part.pieces[0].in_part
    faces = np.flatnonzero(body.on(surface) & (body.areas > 1.0))
    assert len(faces)
    for face in faces[:: max(1, len(faces) // 6)]:
        own = body.triangles[face].mean(axis=0)
        table, told = told_of(part, part.X_CP[:3, :3] @ own + part.X_CP[:3, 3])
        assert told == words
        ear = f"{side}_{'a' if own[1] > 0.0 else 'b'}"
        assert table == (f"caps.{ear}" if words in ("ear", "seat") else f"yokes.{side}")
        # What is pointed out then is just there.
        found = skin_told(apart, table, told)
        assert found is not None
        assert found[0] is part
        assert np.linalg.norm(found[1].triangles.mean(axis=1) - own, axis=1).min() < 1e-9


def test_a_click_on_a_strap_or_its_bolt_is_a_place_of_its_yoke(room: WhyRoom) -> None:
    apart = room.apart
    assert apart is not None
    for name, surface in (("strap end_a", "strap"), ("bolts end_b", "bolt")):
        part = apart.named(name)
        assert part is not None
        own = part.pieces[0].mesh.vertices[0]
        place = place_of(apart, part, part.X_CP[:3, :3] @ own + part.X_CP[:3, 3])
        assert place is not None
        assert (place.yoke, place.surface) == ("end", surface)
        assert place.clock == pytest.approx(float(clock(own)), abs=1e-9)
        carried = apart.carrying("end", surface, own)
        assert carried is part
    cap = apart.named("cap end_a")
    assert cap is not None
    assert place_of(apart, cap, cap.X_CP[:3, 3]) is None


def test_every_part_of_the_joint_lies_on_the_bench_once(room: WhyRoom) -> None:
    apart = room.apart
    names = [part.name for part in apart.parts]
    assert len(names) == len(set(names))
    for cap in ("shaft_a", "shaft_b", "end_a", "end_b"):
        for what in ("cap", "needles", "trunnion", "seal"):
            assert f"{what} {cap}" in names
    made = apart.hardware
    # Nothing is lost or drawn twice: the triangles of cross and caps are all there.
    for piece, whole in (
        ("trunnion", int(made.cross.parts["cross"].on("trunnion").sum())),
        ("seal", len(made.cross.parts["seals"].faces)),
        ("cap", sum(len(yoke.parts["caps"].faces) for yoke in apart.yokes.values())),
    ):
        own = [p for p in apart.parts if p.name.startswith(f"{piece} ")]
        assert sum(len(each.mesh.faces) for p in own for each in p.pieces) == whole
    tables = {part.table for part in apart.parts}
    assert tables <= set(TABLES)


def test_parts_that_came_off_are_clear_of_each_other(room: WhyRoom) -> None:
    """Boxes along each bore and along the shaft: caps are off the trunnions, yokes off the caps."""
    apart = room.apart
    for cap in ("shaft_a", "end_b"):
        side = cap.partition("_")[0]
        yoke = apart.named(yoke_name(side))  # type: ignore[arg-type]
        assert yoke is not None
        out = yoke.X_CP[:3, 1] * (1.0 if cap.endswith("a") else -1.0)
        reach = {}
        for what in ("trunnion", "needles", "cap"):
            part = apart.named(f"{what} {cap}")
            assert part is not None
            along = (part.pieces[0].mesh.vertices @ part.X_CP[:3, :3].T + part.X_CP[:3, 3]) @ out
            reach[what] = along.min(), along.max()
        assert reach["needles"][0] > reach["trunnion"][1]
        assert reach["cap"][1] > reach["needles"][1]
        along = (yoke.pieces[0].mesh.vertices @ yoke.X_CP[:3, :3].T + yoke.X_CP[:3, 3]) @ (
            yoke.X_CP[:3, 0]
        )
        assert along.min() > 0.5 * apart.hardware.cross_from.cap_diameter


@pytest.mark.parametrize("path", sorted(DEMOS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_demo_is_opened_and_every_word_of_it_has_its_place(
    open_rig: Callable[..., Session], path: Path
) -> None:
    room = WhyRoom(open_rig())
    room.open(path)
    assert room.file.text == path.read_text("utf-8")
    rows = {each.key: each for table in (*TABLES, *STORY) for each in rows_of(table)}
    for key, value in _leaves(tomllib.loads(path.read_text("utf-8"))):
        if "." in key:
            assert key in rows
            if rows[key].kind == "words":
                assert [w for w in rows[key].words if room.told(rows[key], w) == "seen"] == [
                    w for w in rows[key].words if w in value
                ]


def _leaves(data: dict[str, object], path: str = "") -> list[tuple[str, object]]:
    found: list[tuple[str, object]] = []
    for key, value in data.items():
        here = f"{path}.{key}" if path else key
        found += _leaves(value, here) if isinstance(value, dict) else [(here, value)]
    return found


def test_it_is_saved_as_it_stands_and_opened_again(room: WhyRoom, tmp_path: Path) -> None:
    room.tick(row("caps.end_a.seen"), "dry")
    room.add_mark(Place("shaft", "throat", 0.0))
    place = beside_rig(tmp_path / "my truck.toml", room.joint)
    assert place == tmp_path / "my truck-pinion-seen.toml"
    room.file.save(place)
    assert not room.file.is_dirty
    assert load_inspection(place) == room.file.inspection
    again = Inspected.open(place)
    assert again.text == room.file.text


def test_another_rig_brings_a_fresh_inspection_and_loses_none_that_is_not_saved(
    room: WhyRoom,
) -> None:
    other = Path(__file__).parents[3] / "models" / "rigs" / "ridge-crawler.toml"
    first, path = room.file, room.session.document.path
    room.session.open(Document.open(other))
    assert room.file is not first
    assert room.file.inspection.rig == room.rig
    assert not room.file.is_dirty
    room.tick(row("caps.end_a.seen"), "dry")
    ticked = room.file
    assert path is not None
    room.session.open(Document.open(path))
    assert room.file is ticked
    assert room.data["caps"]["end_a"]["seen"] == ["dry"]


def test_an_inspection_of_another_rig_is_told(room: WhyRoom) -> None:
    assert room.of_another == ""
    room.open(DEMOS / "ridge-crawler.toml")
    assert room.of_another == "demo:ridge-crawler"


def test_a_rig_is_refused_as_an_inspection(room: WhyRoom) -> None:
    before = room.file
    with pytest.raises(RigError):
        room.open(Path(__file__).parents[3] / "models" / "rigs" / "ridge-crawler.toml")
    assert room.file is before


def test_another_joint_on_the_bench_is_another_set_of_parts(room: WhyRoom) -> None:
    heard = []
    room.took_apart.connect(lambda: heard.append(room.joint))
    assert room.apart.titles["end"] == "pinion yoke"
    room.tell_of_all("joint", "output")
    assert room.apart.titles["end"] == "output yoke"
    assert heard == ["output"]
    room.file.undo()
    assert heard == ["output", "pinion"]


def test_of_a_head_either_cross_lies_on_the_bench(open_rig: Callable[..., Session]) -> None:
    room = WhyRoom(open_rig("short-tailed-scout"))
    room.tell_of_all("joint", "output")
    assert room.is_head
    assert "ball" in room.tables
    outer = room.apart.hardware
    room.tell_of_all("head_cross", "inner")
    inner = room.apart.hardware
    # The outer cross is the one toward the vehicle: between the output's yoke and the center yoke.
    assert outer.driving.kind == "flange yoke"
    assert inner.driven.kind == "weld yoke"
    assert outer.driven.kind == inner.driving.kind == "center yoke"


def test_only_caps_under_straps_are_asked_for_their_straps(room: WhyRoom) -> None:
    has = {table for table in TABLES for each in room.rows(table) if each.key.endswith(".strap")}
    assert has == {"caps.end_a", "caps.end_b"}
