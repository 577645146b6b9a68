"""Own yokes that were placed before come back as they were, and never for another file."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from geometry import imported
from geometry.errors import MeshError
from geometry.yoke import Yoke
from sim.kept import answers, own_yoke
from sim.kept.own_yoke import OwnYoke, placed_yoke
from tests.geometry.scan_like import own_yoke as forging
from tests.geometry.scan_like import somewhere, write


@pytest.fixture(scope="module")
def scan(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("scan") / "mine.stl"
    return write(place, forging("weld yoke").moved(*somewhere(2)))


def asked_of(file: Path) -> OwnYoke:
    return OwnYoke(file, "mm", None, 27.0, 82.0, 18.0, 76.2, 60.0)


def refuse(*_: object, **__: object) -> None:
    raise AssertionError("it was read again")


@pytest.fixture(scope="module")
def placed(scan: Path) -> imported.ImportedYoke:
    fittings = imported.Fittings(True, *asked_of(scan).added.values())
    return imported.imported_yoke(scan, "mm", fittings=fittings)


@pytest.fixture
def reads(placed: imported.ImportedYoke, monkeypatch: pytest.MonkeyPatch) -> list[object]:
    """What was read, one after the other; reading itself is done once for all tests."""
    files: list[object] = []

    def read(file: object, *_: object, **__: object) -> imported.ImportedYoke:
        files.append(file)
        return placed

    monkeypatch.setattr(imported, "imported_yoke", read)
    return files


def same(one: Yoke, other: Yoke) -> bool:
    plain = [(y.kind, y.tube_from, dict(y.dimensions), list(y.parts)) for y in (one, other)]
    return (
        plain[0] == plain[1]
        and one.contact.key() == other.contact.key()
        and all(one.parts[name].key() == other.parts[name].key() for name in one.parts)
    )


@pytest.mark.slow
def test_what_comes_back_is_what_was_placed(
    scan: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same to the last bit, without reading; under another name it is the same yoke."""
    kept = tmp_path / "kept"
    first, notes = placed_yoke(asked_of(scan), kept)
    assert set(first.parts) == {"body", "caps", "tube"}
    assert notes
    copy = tmp_path / "copy.stl"
    copy.write_bytes(scan.read_bytes())
    monkeypatch.setattr(imported, "imported_yoke", refuse)
    for file in (scan, copy):
        again, told = placed_yoke(asked_of(file), kept)
        assert same(first, again)
        assert told == notes
        assert again.name == file.stem
        assert not again.contact.vertices.flags.writeable


@pytest.mark.slow
def test_all_that_is_asked_names_the_entry(
    scan: Path, tmp_path: Path, reads: list[object], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another content, ending, unit, pick, cap, tube, format of the cache: read anew."""
    kept, asked = tmp_path / "kept", asked_of(scan)
    placed_yoke(asked, kept)
    assert reads == [scan]
    monkeypatch.setattr(imported, "imported_yoke", refuse)
    changed = tmp_path / "mine.stl"
    data = bytearray(scan.read_bytes())
    data[3] ^= 1
    changed.write_bytes(data)
    ending = tmp_path / "mine.ply"
    ending.write_bytes(scan.read_bytes())
    others = [
        asked_of(changed),
        asked_of(ending),
        replace(asked, unit=None),
        replace(asked, unit="in"),
        replace(asked, picks=[[0.0, 1.0, 2.0], [3.0, 4.0, 5.0], [6.0, 7.0, 8.0]]),
        replace(asked, cap_length=18.5),
        replace(asked, weld_land=None, tube_diameter=None),
    ]
    for other in others:
        with pytest.raises(AssertionError, match="read again"):
            placed_yoke(other, kept)
    monkeypatch.setattr(answers, "code_key", lambda _: "another program")
    with pytest.raises(AssertionError, match="read again"):
        placed_yoke(asked, kept)


@pytest.mark.parametrize("spoiled", [b"", b"\x00\xff", b"abc\n{}", None])
def test_a_spoiled_entry_is_read_anew(
    scan: Path, tmp_path: Path, reads: list[object], spoiled: bytes | None
) -> None:
    first, _ = placed_yoke(asked_of(scan), tmp_path)
    (entry,) = tmp_path.glob("*.json")
    whole = entry.read_bytes()
    entry.write_bytes(whole[: len(whole) // 2] if spoiled is None else spoiled)
    again, _ = placed_yoke(asked_of(scan), tmp_path)
    assert same(first, again)
    assert entry.read_bytes() == whole
    assert len(reads) == 2


def test_an_entry_of_another_layout_is_read_anew(
    scan: Path, tmp_path: Path, reads: list[object]
) -> None:
    """Sound by its checksum, and nothing that a yoke could be made of."""
    from sim.kept.answers import read_entry, write_entry

    first, _ = placed_yoke(asked_of(scan), tmp_path)
    (entry,) = tmp_path.glob("*.json")
    data = read_entry(entry)
    odd = {"kind": "imported yoke", "parts": {"body": {"vertices": "AAAA", "faces": ""}}}
    for spoiled in (None, [], 7, odd, data | {"parts": {}}, data | {"notes": None}):
        write_entry(entry, spoiled, own_yoke.MOST_ENTRIES)
        again, _ = placed_yoke(asked_of(scan), tmp_path)
        assert same(first, again)
    assert len(reads) == 7


def test_a_file_that_changes_while_it_is_read_is_not_kept(
    scan: Path,
    tmp_path: Path,
    placed: imported.ImportedYoke,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    file = tmp_path / "mine.stl"
    file.write_bytes(scan.read_bytes())

    def written_over(*_: object, **__: object) -> object:
        file.write_bytes(b"something else")
        return placed

    monkeypatch.setattr(imported, "imported_yoke", written_over)
    placed_yoke(asked_of(file), tmp_path / "kept")
    assert not list((tmp_path / "kept").glob("*.json"))


def test_a_cache_that_cannot_be_written_costs_nothing_but_time(
    scan: Path, tmp_path: Path, reads: list[object]
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("no folder")
    yoke, _ = placed_yoke(asked_of(scan), blocked)
    np.testing.assert_allclose(yoke.dimensions["bore"], 27.0, rtol=0, atol=0.2)
    assert reads == [scan]


def test_what_makes_no_yoke_is_told_each_time(tmp_path: Path) -> None:
    for content in (None, b"solid\n"):
        file = tmp_path / "bad.stl"
        if content is not None:
            file.write_bytes(content)
        for _ in range(2):
            with pytest.raises(MeshError, match=r"bad\.stl"):
                placed_yoke(asked_of(file), tmp_path / "kept")
    with pytest.raises(MeshError, match="weld_land"):
        placed_yoke(replace(asked_of(file), weld_land=None), tmp_path / "kept")
