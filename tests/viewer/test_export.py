"""Exported parts: read back by another library, they are the parts, where they were."""

import json
import struct
from pathlib import Path

import numpy as np
import pytest
import trimesh

from geometry.contact.distance import MeshPair
from geometry.errors import BindpointError
from geometry.mesh import Mesh
from sim.frames import Rx, Rz, pose
from sim.parts.catalogue import yoke_kinds, yoke_shape
from sim.vehicle import Pose
from tests.viewer.subjects import AT, cube, posed
from viewer.scene.build_shaft import export_parts
from viewer.scene.parts import PosedPart
from viewer.written.export import ExportError, export_pose, file_names, stl

SINGLE = 1e-5
"""mm. STL keeps single precision: seven digits of some 100 mm."""


@pytest.fixture(scope="module")
def written(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("export") / "new" / "folder"
    export_pose(folder, export_parts(posed()), AT, posed().spin, "Test wagon")
    return folder


@pytest.fixture(scope="module")
def poses(written: Path):
    return json.loads((written / "poses.json").read_text(encoding="utf-8"))


def read(folder: Path, part) -> trimesh.Trimesh:
    body = trimesh.load_mesh(folder / part["file"])
    assert isinstance(body, trimesh.Trimesh)
    return body


def test_what_is_there_and_what_it_says(written: Path, poses) -> None:
    files = {part["file"] for part in poses["parts"].values()}
    assert {path.name for path in written.iterdir()} == files | {"poses.json"}
    assert list(poses["parts"]) == [part.name for part in export_parts(posed())]
    assert all(name == part["name"] for name, part in poses["parts"].items())
    assert poses["parts"]["output shaft yoke"]["file"] == "output-shaft-yoke.stl"
    assert poses["units"]["length"] == "mm"
    assert "x forward, y left, z up" in poses["frame"]
    assert poses["rig"] == "Test wagon"
    assert poses["at"] == {
        "travel_mm": AT.travel,
        "roll_deg": np.degrees(AT.roll),
        "wrap_deg": np.degrees(AT.wrap),
        "spin_deg": np.degrees(posed().spin),
    }
    assert poses["frames"] == {}


def test_read_back_each_part_is_itself_in_its_own_frame(written: Path, poses) -> None:
    for source in export_parts(posed()):
        body = read(written, poses["parts"][source.name])
        assert body.is_watertight
        np.testing.assert_allclose(body.triangles, source.mesh.triangles, atol=SINGLE)
        np.testing.assert_allclose(body.volume, source.mesh.volume, rtol=1e-6)
        np.testing.assert_array_equal(poses["parts"][source.name]["X_CP"], source.X_CP)


def test_put_together_the_gaps_are_those_of_the_program(written: Path, poses) -> None:
    """The smallest distance of the exported bodies of each joint is the gap that was told."""
    for joint, ends in (
        ("output", ("output yoke", "output shaft yoke", "output cross")),
        ("pinion", ("pinion shaft yoke", "pinion yoke", "pinion cross")),
    ):
        bodies = []
        for name in ends:
            body = read(written, poses["parts"][name])
            body.apply_transform(np.array(poses["parts"][name]["X_CP"]))
            bodies.append(Mesh.uniform(body.vertices, body.faces, name))
        pairs = [(0, 1), (0, 2), (1, 2)]
        distances = [MeshPair(bodies[a], bodies[b]).nearest(np.eye(3)).distance for a, b in pairs]
        told = posed().joints[joint].gap
        np.testing.assert_allclose(min(distances), told.distance, atol=1e-4)
        assert (min(distances) == 0.0) == told.overlaps


@pytest.mark.parametrize("kind", yoke_kinds())
def test_every_yoke_of_the_catalogue_comes_back_closed(kind: str) -> None:
    mesh = yoke_shape(kind, "27 x 82").build().contact
    content = stl(PosedPart(kind, "brass", mesh, np.eye(4)))
    body = trimesh.load_mesh(trimesh.util.wrap_as_stream(content), file_type="stl")
    assert body.is_watertight
    np.testing.assert_allclose(body.volume, mesh.volume, rtol=1e-6)


def test_the_header_says_unit_and_name_and_is_no_text_file() -> None:
    for name in ("output yoke", "solid thing", "Bügel", "x" * 200):
        content = stl(PosedPart(name, "brass", cube(), np.eye(4)))
        header = content[:80]
        assert header.startswith(b"Unit mm. Part: ")
        assert header[15:].strip().decode("ascii") == name.replace("ü", "?")[:65].strip()
        assert struct.unpack("<I", content[80:84]) == (12,)
        assert len(content) == 84 + 12 * 50


def test_file_names_are_plain_on_every_system() -> None:
    names = file_names(["Output yoke", "shaft's weld yoke", "a/b\\c:d", "??"])
    assert list(names.values()) == [
        "output-yoke.stl", "shaft-s-weld-yoke.stl", "a-b-c-d.stl", "part.stl",
    ]  # fmt: skip


def test_two_parts_with_one_name_are_refused_before_anything_is_written(tmp_path: Path) -> None:
    parts = [PosedPart(name, "brass", cube(), np.eye(4)) for name in ("a b", "A-B")]
    with pytest.raises(ExportError, match=r"two parts would be written to a-b\.stl"):
        export_pose(tmp_path / "out", parts, Pose(), 0.0)
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_cannot_be_written_gives_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    parts = [PosedPart("a", "brass", cube(), np.eye(4))]
    for folder in (tmp_path / "file", tmp_path / "file" / "below"):
        with pytest.raises(ExportError) as error:
            export_pose(folder, parts, Pose(), 0.0)
        assert "cannot be written there" in str(error.value)
        assert str(folder) in str(error.value)
        assert "\n" not in str(error.value)
    assert issubclass(ExportError, BindpointError)
    assert issubclass(ExportError, OSError)


def test_writing_again_replaces_the_parts_and_leaves_other_files(tmp_path: Path) -> None:
    one = [PosedPart("a", "brass", cube(10.0), np.eye(4))]
    two = [PosedPart("a", "brass", cube(20.0), pose(Rz(0.3) @ Rx(0.2), [1.0, 2.0, 3.0]))]
    (tmp_path / "note.txt").write_text("mine")
    export_pose(tmp_path, one, Pose(), 0.0)
    told = export_pose(str(tmp_path), two, Pose(1.0, 0.1, 0.2), 0.5, "Wagon")
    assert told == tmp_path / "poses.json"
    content = json.loads(told.read_text(encoding="utf-8"))
    np.testing.assert_array_equal(content["parts"]["a"]["X_CP"], two[0].X_CP)
    np.testing.assert_allclose(read(tmp_path, content["parts"]["a"]).volume, 8000.0, rtol=1e-6)
    assert sorted(p.name for p in tmp_path.iterdir()) == ["a.stl", "note.txt", "poses.json"]
