"""Files a rig names are found wherever they stand in it, and copied without overwriting."""

import shutil
from pathlib import Path

import pytest

from tests.viewer.session.conftest import RIGS
from viewer.session.beside import left_behind, take_along
from viewer.session.document import Document

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


def test_what_would_be_missed_is_copied_and_nothing_else(
    document: Document, tmp_path: Path
) -> None:
    target = tmp_path / "there" / "rig.toml"
    target.parent.mkdir()
    found = left_behind(document, target)
    assert sorted(path.as_posix() for path in found) == ["scans/pipe.stl", "yoke.ply"]
    (target.parent / "yoke.ply").write_bytes(b"mine")
    take_along(document, target)
    assert (target.parent / "scans" / "pipe.stl").read_bytes() == b"scans/pipe.stl"
    assert (target.parent / "yoke.ply").read_bytes() == b"mine", "never overwritten"
    assert left_behind(document, target) == []


def test_nothing_is_left_behind_in_the_same_folder_or_without_a_file(
    document: Document, tmp_path: Path
) -> None:
    assert left_behind(document, tmp_path / "here" / "other.toml") == []
    demo = Document.demo("marsh-runner")
    assert left_behind(demo, tmp_path / "rig.toml") == []
    take_along(demo, tmp_path / "rig.toml")
