"""`yoke`: what it says of a mesh and of readings, one clear line for bad input, lines that work."""

import io
import json
import struct
import tomllib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import trimesh

from sim.parts.catalogue import yoke_shape
from sim.rig import load_rig
from sim.rig.demos import demo_text
from tests.demo_scans import STRAP, WELD
from tests.geometry.scan_like import dense, own_yoke, somewhere, write
from tests.outside.drawn.yokes import CONTRADICTING, DRAWN
from tests.simple_shapes import box
from tests.viewer.run_command import Ran, run
from viewer.commands.yoke import PicksError, picks_of

Command = Callable[..., Ran]
HAULER = "quarry-hauler"
TYPED = 'pinion_yoke = "strap yoke"'


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words, typed="": run(monkeypatch, capsys, "yoke", *words, typed=typed)


class Console(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.fixture
def console(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    """The command with somebody at the keyboard."""
    monkeypatch.setattr(io, "StringIO", Console)
    return lambda *words, typed="": run(monkeypatch, capsys, "yoke", *words, typed=typed)


@pytest.mark.slow
def test_a_clean_scan_in_inches(command: Command) -> None:
    ran = command(str(WELD.path))
    assert ran.code == 0
    for says in (
        "weld-yoke-inches.stl: STL, 16,000 triangles",
        "as in 114 mm (4.49 in), as m 4.49 m",
        "inches: only in inches is it a yoke",
        "one piece, closed; nothing to mend",
        "full round; noise 0.0",
        "out of one line",
        "brought down to 12,000",
        "27 x 82 seems to fit",
        "certifies nothing",
        'shaft_yoke = {kind = "own yoke", file = "weld-yoke-inches.stl", unit = "in"}',
    ):
        assert says in ran.out
    assert max(len(line) for line in ran.out.splitlines()) <= 96


@pytest.mark.slow
def test_a_scan_with_faults_tells_each(command: Command) -> None:
    ran = command(str(STRAP.path))
    flat = " ".join(ran.out.split())
    assert ran.code == 0
    for says in (
        "9 specks left out, 1 small hole filled, 1 large hole closed flat, up to",
        "half-round saddles",
        "A touch on 'filled hole' means: scan that place again",
    ):
        assert says in flat


@pytest.mark.slow
def test_json_tells_the_same(command: Command) -> None:
    data = json.loads(command(str(WELD.path), "--json", "--cross", "1310").out)
    shape = yoke_shape(WELD.kind, WELD.cross)
    assert (data["unit"], data["format"], data["triangles"]) == ("in", "stl", 16_000)
    assert data["cross"] == "27 x 82"
    np.testing.assert_allclose(data["bores"]["diameter_mm"], shape.bore, rtol=0, atol=0.1)
    np.testing.assert_allclose(data["bores"]["inside_span_mm"], shape.inside_span, atol=0.1, rtol=0)
    np.testing.assert_allclose(data["throat_mm"], shape.throat_depth, rtol=0, atol=0.2)
    assert 0.0 <= data["bores"]["out_of_line_mm"] < 0.1
    assert data["deviation_mm"] > 0.0
    assert any("only what is in the scan can touch" in note for note in data["notes"])
    assert tomllib.loads(data["toml"])["shaft_yoke"]["unit"] == "in"


@pytest.mark.slow
def test_the_lines_of_a_scan_make_a_rig(command: Command, tmp_path: Path) -> None:
    scan = write(tmp_path / 'a "scan".stl', own_yoke("flange yoke", "30 x 92"))
    lines = tmp_path / "lines.toml"
    ran = command(str(scan), "--write", str(lines))
    assert ran.code == 0
    assert f"wrote {lines}" in ran.err
    table = tomllib.loads(lines.read_text("utf-8"))
    assert table["cross"] == "30 x 92"
    typed = lines.read_text("utf-8").splitlines()[-1].replace("shaft_yoke", "pinion_yoke")
    rig = tmp_path / "rig.toml"
    rig.write_text(demo_text(HAULER).replace(TYPED, typed), encoding="utf-8")
    loaded = load_rig(rig).shaft.pinion_end
    assert loaded.pinion_yoke.file == scan.name
    assert command(str(scan), "--write", str(lines)).code == 2


def test_picks_go_into_the_lines_in_the_numbers_of_the_file(
    command: Command, tmp_path: Path
) -> None:
    yoke = own_yoke("weld yoke")
    scan = write(tmp_path / "yoke.obj", yoke, 0.1)
    ran = command(str(scan), "--unit", "cm", "--picks", "0,4.3,0; 0,-4.3,0; 9,0,0", "--json")
    data = json.loads(ran.out)
    assert data["placed"]["how"] == "picks"
    assert data["bores"] is None
    np.testing.assert_allclose(data["placed"]["rotation"], np.eye(3), rtol=0, atol=1e-12)
    table = tomllib.loads(data["toml"])["shaft_yoke"]
    assert table["picks"] == [[0, 4.3, 0], [0, -4.3, 0], [9, 0, 0]]
    assert table["unit"] == "cm"


@pytest.mark.parametrize("text", ["", "1,2,3", "1,2,3;4,5,6;7,8", "a,b,c;1,2,3;4,5,6"])
def test_picks_that_are_no_points(text: str) -> None:
    with pytest.raises(PicksError, match="expected three points"):
        picks_of(text)


def ambiguous(folder: Path) -> Path:
    """A yoke whose numbers make one in cm and in inches, as long as no bores are looked for."""
    return write(folder / "small.stl", own_yoke("weld yoke"), 0.1)


PICKS = ("--picks", "0,4.3,0; 0,-4.3,0; 9,0,0")


def test_a_unit_that_is_not_certain_is_asked_for(console: Command, tmp_path: Path) -> None:
    path = ambiguous(tmp_path)
    ran = console(str(path), *PICKS, typed="furlong\ncm\n")
    assert ran.code == 0
    assert "Which unit is it in?" in ran.out
    assert "Unit (" in ran.out
    assert "no unit 'furlong'" in ran.err
    assert 'unit = "cm"' in ran.out
    ran = console(str(path), *PICKS)
    assert ran.code == 2
    assert "say it with --unit" in ran.err


def test_nobody_there_to_ask_is_one_line(command: Command, tmp_path: Path) -> None:
    for more in ((), ("--json",)):
        ran = command(str(ambiguous(tmp_path)), *PICKS, *more)
        assert ran.code == 2
        assert ran.out == ""
        assert len(ran.err.splitlines()) == 1
        assert "say it with --unit cm|in" in ran.err


def huge(path: Path) -> None:
    with path.open("wb") as file:
        file.write(b"\0" * 80 + struct.pack("<I", 5_000_000))
        file.truncate(84 + 50 * 5_000_000)


BAD: dict[str, tuple[Callable[[Path], object], str]] = {
    "block.stl": (lambda path: write(path, box((0, 0, 0), (90, 60, 30), "b")), "no two round"),
    "empty.stl": (lambda path: path.write_bytes(b""), "the file is empty"),
    "nothing.stl": (lambda path: path.write_bytes(b"\0" * 84), "no triangles in it"),
    "letter.stl": (lambda path: path.write_text("Dear shop, the yoke. " * 20), "this is text"),
    "huge.stl": (huge, "5,000,000 triangles; at most 1,000,000 are read"),
    "short.stl": (lambda path: path.write_bytes(b"\0" * 80 + b"\x09\0\0\0" + b"\0" * 99), "whole"),
    "part.step": (lambda path: path.write_text("ISO-10303-21;"), "not a mesh that can be read"),
    "gone.stl": (lambda path: path, "cannot be read"),
    "folder.stl": (lambda path: path.mkdir(), "a folder"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_are_one_line(command: Command, tmp_path: Path, name: str) -> None:
    make, says = BAD[name]
    make(tmp_path / name)
    for more in ((), ("--unit", "mm"), ("--json",)):
        ran = command(str(tmp_path / name), *more)
        assert ran.code == 2
        assert ran.out == ""
        assert len(ran.err.splitlines()) == 1
        assert says in ran.err
        assert name in ran.err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "expected a scan or drawing, or --measured"),
        ((str(WELD.path), "--unit", "furlong"), "no unit 'furlong'"),
        ((str(WELD.path), "--cross", "5 x 5"), "no cross '5 x 5'"),
        ((str(WELD.path), "--picks", "1,2"), "expected three points"),
        ((str(WELD.path), "--picks", "1,2,3; 1,2,3; 4,5,6"), "one point"),
        ((str(WELD.path), "--drawings", "d"), "goes with --measured"),
        ((str(WELD.path), "--write", "no/such/folder.toml"), "the folder is not there"),
        ((str(WELD.path), "--unit", "mm", "--measured"), "go with a mesh file only"),
        (("--measured", "--json"), "--json: no file of readings"),
        (("--measured", "--cross", "5 x 5"), "no cross '5 x 5'"),
    ],
)
def test_bad_options_are_one_line(command: Command, words: tuple[str, ...], says: str) -> None:
    ran = command(*words)
    assert ran.code == 2
    assert len(ran.err.splitlines()) == 1
    assert says in ran.err


@pytest.mark.slow
def test_a_mesh_in_metres(command: Command, tmp_path: Path) -> None:
    R, p = somewhere(4)
    path = write(tmp_path / "metres.ply", own_yoke("flange yoke").moved(R, p), 0.001)
    data = json.loads(command(str(path), "--json").out)
    assert data["unit"] == "m"
    np.testing.assert_allclose(data["bores"]["inside_span_mm"], 54.0, rtol=0, atol=0.05)
    assert 'unit = "m"' in data["toml"]


@pytest.mark.slow
def test_a_mesh_that_crosses_itself_is_told(command: Command, tmp_path: Path) -> None:
    scan = dense(own_yoke("weld yoke"), 6.0)
    vertices = np.array(scan.vertices)
    # A fold in the skin at the far end: one corner pushed through the metal.
    far = int(np.argmax(vertices[:, 0]))
    vertices[far, 0] -= 40.0
    path = tmp_path / "crossing.stl"
    trimesh.Trimesh(vertices, scan.faces, process=False).export(path)
    ran = command(str(path))
    assert ran.code == 0
    assert "triangles cut each other" in " ".join(ran.out.split())


def readings(folder: Path, text: str) -> str:
    (folder / "readings.toml").write_text(text, encoding="utf-8")
    return str(folder / "readings.toml")


GOOD = 'kind = "weld yoke"\ncross = "1310"\n[readings]\n"ear wall" = "7 mm"\nthroat_gap = "18 mm"\n'


def test_readings_from_a_file(command: Command, tmp_path: Path) -> None:
    ran = command(readings(tmp_path, GOOD), "--measured", "--json")
    data = json.loads(ran.out)
    assert ran.code == 0
    assert data["cross"] == "27 x 82"
    assert data["readings_mm"] == {"ear wall": 7.0, "throat gap": 18.0}
    table = tomllib.loads(data["toml"])
    assert table == {
        "cross": "27 x 82",
        "shaft_yoke": {
            "kind": "weld yoke", "ear_radius": "20.48 mm", "throat_depth": "31.48 mm"
        },
    }  # fmt: skip


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("kind = ", "not a sound TOML file"),
        ("kind = " + 5000 * "[", "not a sound TOML file"),
        (f"{GOOD}shoulder = {400 * '7'}", "expected a length with its unit"),
        ("\0", "a binary file"),
        ('cross = "27 x 82"', "no kind typed"),
        ('kind = "weld yoke"', "no cross typed"),
        ('kind = "bent yoke"\ncross = "1310"', "no yoke 'bent yoke'"),
        ('kind = "weld yoke"\ncross = "1"', "no cross '1'"),
        (f"{GOOD}bore_gap = '3 mm'", "no reading 'bore_gap'"),
        (f"{GOOD}shoulder = 7", "expected a length with its unit"),
        (f"{GOOD}shoulder = '7'", "no unit"),
        (f"{GOOD}shoulder = '-7 mm'", "more than 0"),
        (f"{GOOD}'shoulder gap' = '10 mm'", "throat_depth"),
        ('kind = "weld yoke"\ncross = "1310"\nears = 2', "came ears"),
        ('kind = "weld yoke"\ncross = "1310"\nreadings = 2', "no table"),
    ],
)
def test_bad_readings_are_one_line(command: Command, tmp_path: Path, text: str, says: str) -> None:
    ran = command(readings(tmp_path, text), "--measured")
    assert ran.code == 2
    assert ran.out == ""
    assert len(ran.err.splitlines()) == 1
    assert says in ran.err
    assert "readings.toml" in ran.err


@pytest.mark.slow
def test_ears_and_stub_that_contradict_are_asked_back_in_one_line(
    command: Command, tmp_path: Path
) -> None:
    drawn = next(yoke for yoke in CONTRADICTING if yoke.name == "leaning")
    ran = command(str(drawn.write(tmp_path)), "--unit", "mm")
    assert ran.code == 2
    assert not ran.out
    assert "3.0 deg from square to the bores" in ran.err
    assert "pick three points" in ran.err


@pytest.mark.slow
def test_the_stub_is_told_as_a_second_witness(command: Command, tmp_path: Path) -> None:
    drawn = next(yoke for yoke in DRAWN if yoke.name == "stated-angle")
    file = str(drawn.write(tmp_path))
    assert "stub      2.047 in (52.00 mm) across" in command(file, "--unit", "mm").out
    stub = json.loads(command(file, "--unit", "mm", "--json").out)["placed"]["stub"]
    np.testing.assert_allclose(stub.pop("diameter_mm"), 52.0, rtol=0, atol=0.01)
    np.testing.assert_allclose(list(stub.values()), 0.0, rtol=0, atol=0.01)


def test_readings_that_are_not_there(command: Command, tmp_path: Path) -> None:
    ran = command(str(tmp_path / "gone.toml"), "--measured")
    assert ran.code == 2
    assert "gone.toml: cannot be read" in ran.err


@pytest.mark.parametrize("kind", ["weld", "flange", "strap yoke", "sliding", "deep-throat strap"])
def test_a_yoke_by_caliper_from_the_keyboard_makes_a_rig(
    command: Command, tmp_path: Path, kind: str
) -> None:
    lines = tmp_path / "lines.toml"
    typed = f"{kind}\n30 x 92\n60 mm\n" + "\n" * 20
    ran = command("--measured", "--write", str(lines), typed=typed)
    assert ran.code == 0
    table = tomllib.loads(lines.read_text("utf-8"))
    assert table.pop("cross") == "30 x 92"
    ((key, yoke),) = table.items()
    assert yoke["inside_span"] == "60.00 mm"
    if kind in ("strap yoke", "flange"):
        line = lines.read_text("utf-8").splitlines()[-1].replace(key, "pinion_yoke", 1)
        rig = tmp_path / "rig.toml"
        rig.write_text(demo_text(HAULER).replace(TYPED, line), encoding="utf-8")
        assert load_rig(rig).shaft.pinion_end.pinion_yoke.overrides["inside_span"] == 60.0


def test_ending_early_writes_nothing(command: Command, tmp_path: Path) -> None:
    lines = tmp_path / "lines.toml"
    ran = command("--measured", "--write", str(lines), typed="weld\n1310\n54 mm\nquit\n")
    assert ran.code == 2
    assert "nothing was written" in ran.out
    assert not lines.exists()


@pytest.mark.slow
def test_drawings_are_written_and_named_when_asked(command: Command, tmp_path: Path) -> None:
    folder = tmp_path / "drawings"
    typed = "sliding\n1310\n?\n" + "\n" * 20
    ran = command("--measured", "--drawings", str(folder), typed=typed)
    assert ran.code == 0
    assert "01-inside-span.png" in "".join(ran.out.split())
    assert len(list(folder.glob("*.png"))) == int(ran.err.split("wrote ")[1].split()[0])


@pytest.mark.needs_gl
@pytest.mark.slow
def test_pictures_of_a_scan_and_of_readings(command: Command, tmp_path: Path) -> None:
    scan, caliper = tmp_path / "scan.png", tmp_path / "caliper.png"
    assert command(str(STRAP.path), "--picture", str(scan)).code == 0
    given = readings(tmp_path, GOOD)
    assert command(given, "--measured", "--picture", str(caliper)).code == 0
    for path in (scan, caliper):
        assert path.read_bytes().startswith(b"\x89PNG")
    ran = command(str(WELD.path), "--picture", str(tmp_path / "p.gif"))
    assert ran.code == 2
    assert "For the rig file" in ran.out
