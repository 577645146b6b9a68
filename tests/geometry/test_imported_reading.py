import json
import struct
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.errors import MeshError
from geometry.imported import FORMATS, LIMITS, RawMesh, read_mesh
from geometry.mesh import Mesh
from tests.geometry.scan_like import threemf, write
from tests.simple_shapes import box

BLOCK = box((1.0, 2.0, 3.0), (5.0, 8.0, 13.0), "block")

ASCII_BLOCK = trimesh.exchange.stl.export_stl_ascii(trimesh.Trimesh(BLOCK.vertices, BLOCK.faces))


def volume(raw: RawMesh) -> float:
    return Mesh.uniform(raw.vertices, raw.faces, "").volume


def stl_head(faces: int) -> bytes:
    return b"\0" * 80 + struct.pack("<I", faces)


@pytest.mark.parametrize("ending", FORMATS)
def test_every_format_gives_the_same_block(tmp_path: Path, ending: str) -> None:
    raw = read_mesh(write(tmp_path / f"block{ending}", BLOCK))
    assert raw.source == f"block{ending}"
    assert len(raw.faces) == 12
    assert raw.unit == {".3mf": "mm", ".glb": "m"}.get(ending)
    assert raw.extent == 10.0
    np.testing.assert_allclose(volume(raw), 240.0, rtol=1e-12, atol=0)
    corners = np.unique(raw.vertices[raw.faces].reshape(-1, 3), axis=0)
    np.testing.assert_allclose(corners, np.unique(BLOCK.vertices, axis=0), rtol=0, atol=0)


def test_text_stl_and_text_ply(tmp_path: Path) -> None:
    body = trimesh.Trimesh(BLOCK.vertices, BLOCK.faces, process=False)
    (tmp_path / "a.stl").write_text(ASCII_BLOCK)
    (tmp_path / "b.ply").write_bytes(trimesh.exchange.ply.export_ply(body, encoding="ascii"))
    for name in ("a.stl", "b.ply"):
        np.testing.assert_allclose(volume(read_mesh(tmp_path / name)), 240.0, rtol=1e-7, atol=0)


def test_long_text_is_read_in_pieces(tmp_path: Path) -> None:
    # Pieces of the reader end in the middle of a corner.
    one = "vertex 0 0 0\nvertex 1 0 0\nvertex 0 1 1e-3\n"
    (tmp_path / "long.stl").write_text("solid\n" + one * 150_000)
    raw = read_mesh(tmp_path / "long.stl")
    assert len(raw.faces) == 150_000
    np.testing.assert_allclose(raw.vertices[[0, 1, 2]], [[0, 0, 0], [1, 0, 0], [0, 1, 1e-3]])
    assert np.ptp(raw.vertices.reshape(-1, 9), axis=0).max() == 0.0


def test_the_ending_may_lie(tmp_path: Path) -> None:
    path = write(tmp_path / "block.ply", BLOCK).rename(tmp_path / "block.stl")
    assert len(read_mesh(path).faces) == 12


def test_binary_stl_that_begins_like_text(tmp_path: Path) -> None:
    data = bytearray(write(tmp_path / "block.stl", BLOCK).read_bytes())
    data[:5] = b"solid"
    (tmp_path / "block.stl").write_bytes(data)
    assert len(read_mesh(tmp_path / "block.stl").faces) == 12


def test_polygons_become_triangles(tmp_path: Path) -> None:
    text = "v 0 0 0\nv 1 0 0\nv 1 1 0\nv 0 1 0\nv 0 0 1\nf 1 2 3 4\nf 1 2 5\nf 2 3 5\n"
    (tmp_path / "tent.obj").write_text(text)
    assert len(read_mesh(tmp_path / "tent.obj").faces) == 4


@pytest.mark.parametrize("remark", ["naïve".encode("latin-1"), "наклон".encode("cp1251"), b"\xff"])
def test_an_obj_in_any_encoding_is_read_without_guessing(tmp_path: Path, remark: bytes) -> None:
    text = b"# " + remark + b"\no " + remark + b"\nv 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n"
    (tmp_path / "remark.obj").write_bytes(text)
    raw = read_mesh(tmp_path / "remark.obj")
    np.testing.assert_array_equal(raw.vertices[raw.faces[0]], [[0, 0, 0], [1, 0, 0], [0, 1, 0]])


def test_an_obj_as_it_may_be_written(tmp_path: Path) -> None:
    """Numbers from the end, textures and normals, colours, lines that go on, several groups."""
    text = (
        b"g one\nv 0 0 0 0.5 0.5 0.5\r\nv 1 0 0\nv 1 1 0 1.0\nv 0 1 0\nvn 0 0 1\nvt 0 0\n"
        b"f -4/1/1 -3/1/1 \\\n-2//1 -1\ng two\nl 1 2\nv 5 5 5\nf 1//1 2//1 5//1\n"
    )
    (tmp_path / "a.obj").write_bytes(text)
    raw = read_mesh(tmp_path / "a.obj")
    np.testing.assert_array_equal(raw.faces, [[0, 1, 2], [0, 2, 3], [0, 1, 4]])
    np.testing.assert_array_equal(raw.vertices[[2, 4]], [[1, 1, 0], [5, 5, 5]])


@pytest.mark.parametrize("order", ["<", ">"])
def test_a_ply_as_it_may_be_written(tmp_path: Path, order: str) -> None:
    """Either order of bytes, other properties and elements among them, polygons of any number."""
    form = {"<": "binary_little_endian", ">": "binary_big_endian"}[order]
    head = (
        f"ply\nformat {form} 1.0\ncomment any\nelement camera 1\nproperty list uchar float a\n"
        "element vertex 5\nproperty uchar red\nproperty double x\nproperty double y\n"
        "property double z\nelement face 2\nproperty uchar flag\n"
        "property list uchar uint vertex_index\nend_header\n"
    )
    points = [(0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (1.0, 1.0, 0.0), (0.0, 1.0, 0.0), (0.1, 0.0, 1.0)]
    body = struct.pack(order + "B2f", 2, 1.0, 2.0)
    body += b"".join(struct.pack(order + "B3d", 7, *point) for point in points)
    body += struct.pack(order + "BB4I", 0, 4, 0, 1, 2, 3) + struct.pack(
        order + "BB3I", 0, 3, 0, 1, 4
    )
    (tmp_path / "a.ply").write_bytes(head.encode() + body)
    raw = read_mesh(tmp_path / "a.ply")
    np.testing.assert_array_equal(raw.faces, [[0, 1, 2], [0, 2, 3], [0, 1, 4]])
    np.testing.assert_array_equal(raw.vertices, points)


def test_a_text_ply_with_other_properties(tmp_path: Path) -> None:
    text = (
        "ply\nformat ascii 1.0\nelement vertex 3\nproperty float x\nproperty float y\n"
        "property float z\nproperty float quality\nelement edge 1\nproperty int a\n"
        "element face 1\nproperty float area\nproperty list uchar int vertex_indices\nend_header\n"
        "0 0 0 0.5\n\n1 0 0 0.5\n0 1 0 0.5\n7\n0.5 3 0 1 2\n"
    )
    (tmp_path / "a.ply").write_text(text)
    raw = read_mesh(tmp_path / "a.ply")
    np.testing.assert_array_equal(raw.vertices[raw.faces[0]], [[0, 0, 0], [1, 0, 0], [0, 1, 0]])


def test_places_of_a_3mf(tmp_path: Path) -> None:
    inside = (
        '<resources><object id="1">BODY</object><object id="2"><components>'
        '<component objectid="1" transform="1 0 0 0 1 0 0 0 1 100 0 0"/>'
        '<component objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>'
        '</components></object></resources><build><item objectid="2" '
        'transform="2 0 0 0 2 0 0 0 2 0 0 7"/></build>'
    )
    data = threemf(np.asarray(BLOCK.vertices), np.asarray(BLOCK.faces), "inch", inside)
    (tmp_path / "two.3mf").write_bytes(data)
    raw = read_mesh(tmp_path / "two.3mf")
    assert raw.unit == "in"
    assert len(raw.faces) == 24
    # The mirrored one keeps its volume: its triangles are turned over with it.
    np.testing.assert_allclose(volume(raw), 2 * 8 * 240.0, rtol=1e-12, atol=0)
    low, high = raw.vertices.min(axis=0), raw.vertices.max(axis=0)
    np.testing.assert_allclose([low, high], [[-10, 4, 13], [210, 16, 33]], rtol=1e-12, atol=0)


def test_places_of_a_glb(tmp_path: Path) -> None:
    scene = trimesh.Scene()
    body = trimesh.Trimesh(BLOCK.vertices, BLOCK.faces, process=False)
    for shift in (0.0, 50.0):
        place = trimesh.transformations.translation_matrix([shift, 0.0, 0.0])
        scene.add_geometry(body, transform=place)
    scene.export(tmp_path / "two.glb")
    raw = read_mesh(tmp_path / "two.glb")
    assert len(raw.faces) == 24
    assert raw.extent == 54.0


BAD = {
    "empty.stl": (b"", "the file is empty"),
    "short.stl": (stl_head(12) + b"\0" * 100, "announces 12 triangles, which take 684 bytes"),
    "none.stl": (stl_head(0), "no triangles"),
    "words.stl": (b"solid words\nendsolid\n", "no triangles"),
    "letters.stl": (b"solid\nvertex a b c\n", "without three numbers"),
    "two.stl": (b"solid\nvertex 1 2 3\nvertex 1 2 3\n", "corners in threes"),
    "letter.stl": (b"Dear shop,\r\nthe yoke is on its way. " * 9, "this is text and no STL file"),
    "drawing.stl": (b"ISO-10303-21;\nHEADER;\n" * 9, "export the part as STL again"),
    "noise.stl": (bytes(range(256)) * 3, "not a whole STL file"),
    "nan.stl": (stl_head(1) + struct.pack("<12fH", *[np.nan] * 12, 0), "numbers that are finite"),
    "cloud.ply": (
        b"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\n"
        b"property float z\nend_header\n0 0 0\n",
        "1 points and no triangles",
    ),
    "head.ply": (b"ply\nformat ascii 1.0\n", "its head is not whole"),
    "odd.ply": (b"ply\nelement face many\nend_header\n", "unreadable line"),
    "claims.ply": (
        b"ply\nformat ascii 1.0\nelement vertex 9\nelement face 900\nend_header\n",
        "can hold",
    ),
    "points.obj": (b"v 0 0 0\nv 1 0 0\n", "2 points and no faces"),
    "beyond.obj": (b"v 0 0 0\nf 1 2 3\n", "triangles point outside its 1 points"),
    "words.obj": (b"v 0 0 here\nf 1 1 1\n", "not a sound OBJ file"),
    "zero.obj": (b"v 0 0 0\nf 0 1 1\n", "a corner that is no point of it"),
    "short.ply": (
        b"ply\nformat binary_little_endian 1.0\nelement vertex 3\nproperty float x\n"
        b"property float y\nproperty float z\nelement face 1\n"
        b"property list uchar int vertex_indices\nend_header\n" + b"\0" * 30,
        "ends before all that its head announces",
    ),
    "half.glb": (b"glTF\2\0\0\0", "not a GLB file"),
    "nozip.3mf": (b"PK\3\4 nothing", "not a sound 3MF file"),
    "plain.3mf": (b"hello", "not a sound 3MF file"),
    "part.step": (b"ISO-10303-21;", "not a mesh that can be read; there are .stl, .obj"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_are_told_in_one_line(tmp_path: Path, name: str) -> None:
    data, says = BAD[name]
    (tmp_path / name).write_bytes(data)
    with pytest.raises(MeshError) as told:
        read_mesh(tmp_path / name)
    assert says in str(told.value)
    assert str(told.value).startswith(name)
    assert "\n" not in str(told.value)


@pytest.mark.parametrize("fault", [MemoryError, TypeError, AttributeError, RuntimeError])
@pytest.mark.parametrize("ending", FORMATS)
def test_a_fault_of_the_program_is_not_told_as_the_file_s(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str, fault: type[Exception]
) -> None:
    """What goes wrong in a reader or a library under it stays what it is, for a sound file."""
    from importlib import import_module

    name = {".3mf": "threemf", ".glb": "parsing"}.get(ending, ending[1:])
    path = write(tmp_path / f"block{ending}", BLOCK)

    def broken(*_: object, **__: object) -> None:
        raise fault("not of the file")

    monkeypatch.setattr(import_module(f"geometry.imported.{name}"), "demand_few", broken)
    with pytest.raises(fault, match="not of the file"):
        read_mesh(path)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(MeshError, match=r"gone\.stl: cannot be read"):
        read_mesh(tmp_path / "gone.stl")
    with pytest.raises(MeshError, match="a folder, expected a mesh file"):
        read_mesh(tmp_path)


def test_five_million_faces_are_refused_by_the_head(tmp_path: Path) -> None:
    path = tmp_path / "huge.stl"
    with path.open("wb") as file:
        file.write(stl_head(5_000_000))
        file.truncate(84 + 50 * 5_000_000)
    with pytest.raises(MeshError, match="5,000,000 triangles; at most 1,000,000 are read"):
        read_mesh(path)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "start", "again", "says"),
    [
        ("many.obj", b"v 0 0 0\n", b"f 1 1 1\n" * 1000, "triangles; at most"),
        ("many.stl", b"solid\n", b"vertex 1 2 3\n" * 3000, "triangles; at most"),
        ("line.obj", b"f", b" 1 1 1" * 5000, "a line of more than"),
    ],
)
def test_endless_text_is_refused(
    tmp_path: Path, name: str, start: bytes, again: bytes, says: str
) -> None:
    with (tmp_path / name).open("wb") as file:
        file.write(start)
        for _ in range(1 + LIMITS.faces // 1000):
            file.write(again)
    with pytest.raises(MeshError, match=says):
        read_mesh(tmp_path / name)


def test_too_large_a_file(tmp_path: Path) -> None:
    with (tmp_path / "large.obj").open("wb") as file:
        file.truncate(LIMITS.file_bytes + 1)
    with pytest.raises(MeshError, match="300,000,001 bytes; at most 300,000,000"):
        read_mesh(tmp_path / "large.obj")


def test_ply_that_announces_millions(tmp_path: Path) -> None:
    (tmp_path / "a.ply").write_bytes(b"ply\nformat ascii 1.0\nelement face 5000000\nend_header\n")
    (tmp_path / "b.ply").write_bytes(
        b"ply\nformat ascii 1.0\nelement vertex 5000000\nelement face 1\nend_header\n"
    )
    with pytest.raises(MeshError, match="5,000,000 triangles"):
        read_mesh(tmp_path / "a.ply")
    with pytest.raises(MeshError, match="5,000,000 points"):
        read_mesh(tmp_path / "b.ply")


def glb(description: object) -> bytes:
    text = json.dumps(description).encode()
    text += b" " * (-len(text) % 4)
    return b"glTF" + struct.pack("<III", 2, 20 + len(text), len(text)) + b"JSON" + text


@pytest.mark.parametrize(
    ("description", "says"),
    [
        ([], "not a sound GLB file"),
        ({"extensionsRequired": ["KHR_draco_mesh_compression"]}, "without compression"),
        ({"nodes": [{"children": [0]}]}, "a loop among them"),
        ({"nodes": [{"mesh": 3}]}, "not a sound GLB file"),
        (
            {
                "accessors": [{"count": 3_000_003}],
                "meshes": [{"primitives": [{"indices": 0, "attributes": {"POSITION": 0}}]}],
                "nodes": [{"mesh": 0}],
            },
            "1,000,001 triangles",
        ),
        (
            {
                "accessors": [{"count": 1800}],
                "meshes": [{"primitives": [{"indices": 0, "attributes": {"POSITION": 0}}]}],
                "nodes": [{"children": [1] * 90}, {"children": [2] * 90}, {"mesh": 0}],
                "scenes": [{"nodes": [0]}],
            },
            "triangles",
        ),
    ],
)
def test_glb_that_unfolds_or_is_packed(tmp_path: Path, description: object, says: str) -> None:
    (tmp_path / "a.glb").write_bytes(glb(description))
    with pytest.raises(MeshError, match=says):
        read_mesh(tmp_path / "a.glb")


@pytest.mark.parametrize(
    ("inside", "says"),
    [
        (
            '<resources><object id="1"><components><component objectid="1"/></components></object>'
            '</resources><build><item objectid="1"/></build>',
            "a loop among them",
        ),
        ('<build><item objectid="9"/></build>', "lost at object"),
        ("<resources/><build/>", "no triangles"),
        ('<resources><object id="1">BODY', "not a sound 3MF file"),
        ('<build><item objectid="1" transform="1 2"/></build>', "not a sound 3MF file"),
    ],
)
def test_3mf_that_is_unsound(tmp_path: Path, inside: str, says: str) -> None:
    data = threemf(np.asarray(BLOCK.vertices), np.asarray(BLOCK.faces), "inch", inside)
    (tmp_path / "a.3mf").write_bytes(data)
    with pytest.raises(MeshError, match=says):
        read_mesh(tmp_path / "a.3mf")


def test_3mf_with_a_document_type_is_refused(tmp_path: Path) -> None:
    from zipfile import ZipFile

    with ZipFile(tmp_path / "a.3mf", "w") as file:
        file.writestr("a.model", '<!DOCTYPE m [<!ENTITY a "aaaa">]><model>&a;</model>')
    with pytest.raises(MeshError, match="a document type"):
        read_mesh(tmp_path / "a.3mf")


def test_3mf_that_unfolds_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from dataclasses import replace
    from zipfile import ZIP_DEFLATED, ZipFile

    from geometry.imported import threemf as module

    monkeypatch.setattr(module, "LIMITS", replace(LIMITS, file_bytes=100_000))
    with ZipFile(tmp_path / "a.3mf", "w", ZIP_DEFLATED) as file:
        file.writestr("a.model", " " * 1_000_000)
    assert (tmp_path / "a.3mf").stat().st_size < 10_000
    with pytest.raises(MeshError, match="1,000,000 bytes unpacked"):
        read_mesh(tmp_path / "a.3mf")


@pytest.fixture(scope="module")
def originals(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    where = tmp_path_factory.mktemp("originals")
    found = {e: write(where / f"block{e}", BLOCK).read_bytes() for e in FORMATS}
    return found | {".text.stl": ASCII_BLOCK.encode()}


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(data=st.data())
def test_damaged_files_end_in_one_kind_of_error(
    originals: dict[str, bytes], tmp_path: Path, data: st.DataObject
) -> None:
    """Cut short or with bytes changed, a file is read or refused, and nothing else happens."""
    ending = data.draw(st.sampled_from(sorted(originals)))
    content = bytearray(originals[ending])
    for _ in range(data.draw(st.integers(0, 4))):
        content[data.draw(st.integers(0, len(content) - 1))] = data.draw(st.integers(0, 255))
    content = content[: data.draw(st.integers(0, len(content)))]
    path = tmp_path / f"damaged{ending}"
    path.write_bytes(content)
    try:
        raw = read_mesh(path)
    except MeshError:
        return
    assert len(raw.faces) > 0
    assert np.isfinite(raw.vertices[raw.faces]).all()
