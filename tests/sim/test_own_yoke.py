"""Yokes from mesh files in a rig: a catalogue yoke written out and read back, and bad files."""

from math import degrees
from pathlib import Path

import numpy as np
import pytest
import trimesh
from scipy.spatial.transform import Rotation

from geometry.errors import BindpointError, MeshError
from sim.hardware.head import end_hardware
from sim.hardware.joint import JointHardware
from sim.parts.catalogue import yoke_shape
from sim.rig import RigError, load_rig, parse_rig
from sim.rig.demos import demo_text, load_demo
from tests.outside.drawn.yokes import CONTRADICTING, DRAWN

NAME = "quarry-hauler"
TYPED = 'pinion_yoke = "strap yoke"'


def written(folder: Path, unit: float = 1.0) -> Path:
    """The body of a flange yoke without its caps, thrown somewhere, as a scan would be."""
    body = yoke_shape("flange yoke", "30 x 92").build().parts["body"]
    turn = Rotation.from_euler("xyz", [0.4, -1.1, 2.0]).as_matrix()
    vertices = (body.vertices @ turn.T + [120.0, -40.0, 300.0]) / unit
    place = folder / "scan.stl"
    trimesh.Trimesh(vertices, body.faces, process=False).export(place)
    return place


def rig_with(folder: Path, own: str) -> Path:
    place = folder / "own.toml"
    place.write_text(demo_text(NAME).replace(TYPED, f"pinion_yoke = {own}"), encoding="utf-8")
    return place


@pytest.mark.slow
@pytest.mark.parametrize(("unit", "mm"), [("mm", 1.0), ("in", 25.4)])
def test_a_yoke_read_back_touches_where_the_original_does(
    tmp_path: Path, unit: str, mm: float
) -> None:
    written(tmp_path, mm)
    rig = load_rig(
        rig_with(tmp_path, f'{{ kind = "own yoke", file = "scan.stl", unit = "{unit}" }}')
    )
    own = end_hardware(rig, "pinion")
    original = end_hardware(
        parse_rig(demo_text(NAME).replace(TYPED, 'pinion_yoke = "flange yoke"')), "pinion"
    )
    assert isinstance(own, JointHardware)
    assert own.notes
    np.testing.assert_allclose(
        own.driven.contact.bounds[0], original.driven.contact.bounds[0], atol=1.0
    )
    assert degrees(own.touch().touch_min) == pytest.approx(
        degrees(original.touch().touch_min), abs=0.5
    )


@pytest.mark.parametrize(
    ("own", "key"),
    [
        ('{ kind = "own yoke" }', "pinion_yoke.file"),
        ('{ kind = "own yoke", file = "a.stl", ear_radius = "20 mm" }', "pinion_yoke.ear_radius"),
        ('{ kind = "own yoke", file = "a.stl", picks = [[0, 1], [2, 3]] }', "pinion_yoke.picks"),
        ('{ kind = "own yoke", file = "a.stl", unit = "furlong" }', "pinion_yoke.unit"),
        ('{ kind = "weld yoke", file = "a.stl" }', "pinion_yoke.file"),
    ],
)
def test_wrong_tables_are_told_by_key(own: str, key: str) -> None:
    with pytest.raises(RigError) as told:
        parse_rig(demo_text(NAME).replace(TYPED, f"pinion_yoke = {own}"))
    assert any(key in problem.key for problem in told.value.problems), told.value


def test_ears_too_far_apart_for_the_cross_are_told_with_the_key() -> None:
    own = '{ kind = "strap yoke", inside_span = "93 mm" }'
    with pytest.raises(RigError, match="too wide for a cross") as told:
        parse_rig(demo_text(NAME).replace(TYPED, f"pinion_yoke = {own}"))
    (problem,) = told.value.problems
    assert problem.key == "shaft.pinion_end.pinion_yoke"


@pytest.mark.slow
def test_a_mesh_whose_ears_are_too_far_apart_for_the_cross_is_refused(tmp_path: Path) -> None:
    """Ears drawn 70 mm apart inside, a cross of 92 mm with caps that are 24 mm long."""
    drawn = next(yoke for yoke in DRAWN if yoke.name == "lightened")
    drawn.write(tmp_path).rename(tmp_path / "scan.stl")
    own = '{ kind = "own yoke", file = "scan.stl", unit = "in", cap_length = "24 mm" }'
    with pytest.raises(MeshError, match=r"ears are 70\.00 mm apart inside") as told:
        end_hardware(load_rig(rig_with(tmp_path, own)), "pinion")
    assert "shaft.pinion_end.pinion_yoke: scan.stl:" in str(told.value)
    assert len(str(told.value).splitlines()) == 1


@pytest.mark.slow
def test_ears_and_stub_that_contradict_are_asked_back_with_the_key(tmp_path: Path) -> None:
    drawn = next(yoke for yoke in CONTRADICTING if yoke.name == "beside")
    drawn.write(tmp_path).rename(tmp_path / "scan.stl")
    rig = load_rig(rig_with(tmp_path, '{ kind = "own yoke", file = "scan.stl", unit = "mm" }'))
    with pytest.raises(MeshError, match=r"2\.3 mm beside") as told:
        end_hardware(rig, "pinion")
    assert "shaft.pinion_end.pinion_yoke: scan.stl: bores and shaft" in str(told.value)
    assert len(str(told.value).splitlines()) == 1


@pytest.mark.parametrize(
    "content", [None, b"", b"solid nothing\nendsolid nothing\n", b"\x00" * 500]
)
def test_a_file_that_is_no_yoke_is_one_line(tmp_path: Path, content: bytes | None) -> None:
    if content is not None:
        (tmp_path / "scan.stl").write_bytes(content)
    rig = load_rig(rig_with(tmp_path, '{ kind = "own yoke", file = "scan.stl", unit = "mm" }'))
    with pytest.raises(BindpointError) as told:
        end_hardware(rig, "pinion")
    assert "scan.stl" in str(told.value)
    assert len(str(told.value).splitlines()) == 1


def test_an_own_yoke_is_written_back_as_typed(tmp_path: Path) -> None:
    own = {"kind": "own yoke", "file": "scan.stl", "unit": "mm", "weld_land": "2 1/8 in"}
    table = ", ".join(f'{key} = "{value}"' for key, value in own.items())
    rig = load_rig(rig_with(tmp_path, f"{{ {table} }}"))
    assert rig.typed()["shaft"]["pinion_end"]["pinion_yoke"] == own
    assert load_demo(NAME).typed()["shaft"]["pinion_end"]["pinion_yoke"] == "strap yoke"


@pytest.mark.parametrize(("file", "says"), [("gone.stl", "cannot be read"), (".", "a folder")])
def test_a_mesh_file_that_is_no_file_is_told_with_the_key_that_asks_for_it(
    tmp_path: Path, file: str, says: str
) -> None:
    rig = load_rig(rig_with(tmp_path, f'{{ kind = "own yoke", file = "{file}", unit = "mm" }}'))
    with pytest.raises(MeshError, match=rf"shaft\.pinion_end\.pinion_yoke: .*{says}"):
        end_hardware(rig, "pinion")
