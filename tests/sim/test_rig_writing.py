"""Writing rig files: nothing typed is lost, whatever happens."""

import errno
import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.printable import acts
from sim.kept.atomic import replace_file
from sim.rig import RigError, changed, load_rig, parse_rig, rig_text, save_rig
from sim.table.reading import parse_toml
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt

OVERRIDES = spoilt(
    COORDINATES,
    (
        'pinion_yoke = "strap yoke"',
        'pinion_yoke = { kind = "strap yoke", throat_depth = "1-3/8 in" }',
    ),
    (
        'name = "Test wagon, rear shaft"',
        'name = \'Wagon "no 2", \N{LATIN SMALL LETTER E WITH ACUTE}\'\nnote = "one\\ntwo # three"',
    ),
)
TEXTS = [COORDINATES, PHONE_CALL, PHONE_CALL + MEASURED, OVERRIDES]


@pytest.mark.parametrize("text", TEXTS)
def test_load_write_load_gives_the_same_rig(text: str, tmp_path: Path) -> None:
    rig = parse_rig(text)
    assert parse_rig(rig_text(rig)) == rig
    save_rig(rig, tmp_path / "new.toml")
    again = load_rig(tmp_path / "new.toml")
    assert again == rig
    assert again.typed() == rig.typed() == parse_toml(text)


def test_a_new_file_explains_every_key_and_shows_what_is_assumed() -> None:
    text = rig_text(parse_rig(PHONE_CALL))
    assert '# roll = "8 deg"' in text
    assert "(assumed: generic roll each way (from memory); measure yours)" in text
    assert "# How far the axle hangs down from ride height" in text
    assert all(len(line) <= 100 for line in text.splitlines())


def test_taking_away_the_mark_before_an_assumed_value_makes_it_typed() -> None:
    rig = parse_rig(rig_text(parse_rig(PHONE_CALL)))
    lines = []
    for line in rig_text(rig).splitlines():
        bare = line.removeprefix("# ")
        shows_value = (
            line.startswith("# ") and " = " in bare and bare.split(" = ")[0].isidentifier()
        )
        lines.append(bare if shows_value else line)
    everything = parse_rig("\n".join(lines))
    assert everything.assumed == ()
    assert everything.model_dump() == rig.model_dump()


def test_an_unreadable_old_file_is_replaced_as_a_whole(tmp_path: Path) -> None:
    path = tmp_path / "rig.toml"
    path.write_bytes(b"\0\1\2")
    save_rig(parse_rig(PHONE_CALL), path)
    assert load_rig(path) == parse_rig(PHONE_CALL)


@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_full_disk_loses_nothing_of_the_old_file(
    call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "rig.toml"
    path.write_text(COORDINATES, encoding="utf-8")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, call, full)
    with pytest.raises(RigError) as caught:
        save_rig(changed(load_rig(path), {"travel.droop": "6 in"}), path)
    assert str(caught.value) == (
        f"{path}: no space left on device, expected a place to save to; the old file is untouched"
    )
    assert path.read_text(encoding="utf-8") == COORDINATES
    assert list(tmp_path.iterdir()) == [path]


def test_a_save_that_is_broken_off_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "rig.toml"
    path.write_text("old", encoding="utf-8")

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", interrupted)
    with pytest.raises(KeyboardInterrupt):
        replace_file(path, b"new")
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_the_new_content_is_on_the_disk_before_it_takes_the_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "rig.toml"
    path.write_text("old", encoding="utf-8")
    order: list[str] = []
    fsync, replace = os.fsync, os.replace

    def noted_fsync(descriptor: int) -> None:
        order.append("fsync")
        fsync(descriptor)

    def noted_replace(source: Path, target: Path) -> None:
        order.append("replace")
        assert source.parent == target.parent  # the same disk, so that it is one step
        assert source.read_bytes() == b"new"
        assert target.read_bytes() == b"old"
        replace(source, target)

    monkeypatch.setattr(os, "fsync", noted_fsync)
    monkeypatch.setattr(os, "replace", noted_replace)
    replace_file(path, b"new")
    assert order == ["fsync", "replace"]
    assert path.read_bytes() == b"new"


def test_saving_where_nothing_can_be_saved(tmp_path: Path) -> None:
    for path in (tmp_path / "nowhere" / "rig.toml", tmp_path):
        with pytest.raises(RigError) as caught:
            save_rig(parse_rig(PHONE_CALL), path)
        assert "\n" not in str(caught.value)
        assert "a place to save to" in str(caught.value)
    assert list(tmp_path.iterdir()) == []


def test_a_link_keeps_pointing_to_the_saved_file(tmp_path: Path) -> None:
    target, link = tmp_path / "rig.toml", tmp_path / "link.toml"
    target.write_text("old", encoding="utf-8")
    try:
        link.symlink_to(target)
    except OSError:  # a system that lets only administrators make links has nothing to keep
        return
    replace_file(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


NAMES = (
    st.text(min_size=1, max_size=40)
    .map(lambda text: "".join(each for each in text if not acts(each)))
    .filter(str.strip)
)
"""Whatever is seen as it is; the rest is no name."""

TYPED = st.tuples(st.integers(0, 9), st.integers(1, 15)).map(lambda n: f"{n[0]} {n[1]}/16 in")


@pytest.mark.slow
@given(TYPED, TYPED, NAMES)
def test_any_typed_values_survive_a_round_trip(bump: str, droop: str, name: str) -> None:
    rig = changed(parse_rig(PHONE_CALL), {"travel.bump": bump, "travel.droop": droop, "name": name})
    again = parse_rig(rig_text(rig))
    assert again == rig
    assert (again.travel.bump.typed, again.name) == (bump, name)
