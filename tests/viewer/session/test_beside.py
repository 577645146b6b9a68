"""Files a rig names are kept wherever it goes: copied without overwriting, or pointed at."""

import errno
import os
import shutil
from pathlib import Path

import pytest

from tests.viewer.session.conftest import RIGS
from viewer.session.text.beside import (
    Beside,
    copied,
    elsewhere,
    left_behind,
    nearer,
    pointed_at,
    repointed,
)
from viewer.session.text.document import Document

MESH = {"unit": "mm", "at": ["0 in", "0 in", "0 in"]}


@pytest.fixture
def document(tmp_path: Path) -> Document:
    folder = tmp_path / "here"
    (folder / "scans").mkdir(parents=True)
    rig = Path(shutil.copy(RIGS / "long-legged-trail-wagon.toml", folder / "rig.toml"))
    for name in ("scans/pipe.stl", "yoke.ply"):
        (folder / name).write_bytes(name.encode())
    document = Document.open(rig)
    document.set(
        {
            "surroundings": [
                {"name": "pipe", "mesh": MESH | {"file": "scans/pipe.stl"}},
                {"name": "twice", "mesh": MESH | {"file": "scans/pipe.stl"}},
                {"name": "gone", "mesh": MESH | {"file": "gone.stl"}},
                {"name": "fixed", "mesh": MESH | {"file": str(folder / "yoke.ply")}},
            ],
        }
    )
    inline = '{ kind = "own yoke", file = "yoke.ply" }'
    document.replace(document.text.replace('"strap yoke"', inline), "a scanned yoke")
    return document


def said(files: list[Beside]) -> list[str]:
    return sorted(each.said for each in files)


def named(document: Document) -> dict[str, bytes]:
    """What each file that the rig names holds, as the rig itself finds it."""
    things = document.data["surroundings"]
    names = [each["mesh"]["file"] for each in things if each["name"] != "gone"]
    names += [document.data["shaft"]["pinion_end"]["pinion_yoke"]["file"]]
    return {name: (document.rig.folder / name).read_bytes() for name in names}


def test_what_would_be_missed_is_copied_and_nothing_is_overwritten(
    document: Document, tmp_path: Path
) -> None:
    before = set(named(document).values())
    target = tmp_path / "there" / "rig.toml"
    target.parent.mkdir()
    (target.parent / "yoke.ply").write_bytes(b"another yoke of that name")
    files = left_behind(document, target)
    assert said(files) == ["scans/pipe.stl", "yoke.ply"]
    moves = copied(files, target)
    assert moves == {"scans/pipe.stl": "scans/pipe.stl", "yoke.ply": "yoke-2.ply"}
    document.save(target, lambda text: repointed(text, moves))
    assert (target.parent / "yoke.ply").read_bytes() == b"another yoke of that name"
    assert set(named(document).values()) == before
    assert set(named(Document.open(target)).values()) == before
    assert left_behind(document, target) == []


def test_pointing_goes_on_to_use_them_and_undo_too(document: Document, tmp_path: Path) -> None:
    before = set(named(document).values())
    remarks = document.text.count("#")
    target = tmp_path / "there" / "deeper" / "rig.toml"
    target.parent.mkdir(parents=True)
    moves = pointed_at(left_behind(document, target))
    document.save(target, lambda text: repointed(text, moves))
    assert not document.is_dirty
    assert set(named(document).values()) == before
    assert document.text.count("#") == remarks
    assert list(target.parent.iterdir()) == [target]
    document.set({"travel.droop": "6 in"})
    document.undo()
    document.undo()
    assert (document.rig.folder / document.data["surroundings"][0]["mesh"]["file"]).is_file()


def test_nothing_is_left_behind_where_the_same_files_are_found(
    document: Document, tmp_path: Path
) -> None:
    assert left_behind(document, tmp_path / "here" / "other.toml") == []
    twin = tmp_path / "twin"
    shutil.copytree(tmp_path / "here", twin)
    assert left_behind(document, twin / "rig.toml") == []
    (twin / "yoke.ply").write_bytes(b"yoke.plY")  # as long, and another one
    assert said(left_behind(document, twin / "rig.toml")) == ["yoke.ply"]
    assert left_behind(Document.demo("marsh-runner"), tmp_path / "rig.toml") == []


def test_names_that_lead_out_of_the_folder_are_copied_into_it(
    document: Document, tmp_path: Path
) -> None:
    (tmp_path / "pipe.stl").write_bytes(b"out there")
    (tmp_path / "here" / "pipe.stl").write_bytes(b"in here")
    document.set({"surroundings[1].mesh.file": "../pipe.stl"})
    document.set({"surroundings[2].mesh.file": "pipe.stl"})
    target = tmp_path / "a" / "b" / "rig.toml"
    target.parent.mkdir(parents=True)
    moves = copied(left_behind(document, target), target)
    assert sorted(moves) == ["../pipe.stl", "pipe.stl", "yoke.ply"]
    document.save(target, lambda text: repointed(text, moves))
    found = named(document)
    assert found[moves["../pipe.stl"]] == b"out there"
    assert found[moves["pipe.stl"]] == b"in here"
    assert sorted(each.name for each in (tmp_path / "a").iterdir()) == ["b"]


def test_a_rig_that_was_never_saved_keeps_its_files(document: Document, tmp_path: Path) -> None:
    fresh = Document(document.text, folder=tmp_path / "here")
    elsewhere_, here = tmp_path / "there" / "rig.toml", tmp_path / "here" / "new.toml"
    elsewhere_.parent.mkdir()
    whole = (tmp_path / "here" / "yoke.ply").as_posix()
    assert said(left_behind(fresh, elsewhere_)) == sorted(["scans/pipe.stl", "yoke.ply", whole])
    assert left_behind(fresh, here) == []
    assert nearer(fresh, here)[whole] == "yoke.ply"
    moves = copied(left_behind(fresh, elsewhere_), elsewhere_)
    before = set(named(fresh).values())
    fresh.save(elsewhere_, lambda text: repointed(text, moves))
    assert set(named(fresh).values()) == before
    assert not any(Path(name).is_absolute() for name in named(fresh))


def test_a_full_disk_copies_nothing_at_all(
    document: Document, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "there" / "rig.toml"
    target.parent.mkdir()
    fsync, calls = os.fsync, []

    def full(handle: int) -> None:
        calls.append(handle)
        if len(calls) > 1:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        copied(left_behind(document, target), target)
    assert [each for each in target.parent.rglob("*") if each.is_file()] == []


def test_a_text_written_elsewhere_points_at_the_same_files(
    document: Document, tmp_path: Path
) -> None:
    target = tmp_path / "there" / "rig.toml"
    target.parent.mkdir()
    text = elsewhere(document.text, tmp_path / "here", target)
    target.write_text(text, encoding="utf-8")
    assert set(named(Document.open(target)).values()) == set(named(document).values())
    assert (
        elsewhere(document.text, tmp_path / "here", tmp_path / "here" / "x.toml") == document.text
    )
