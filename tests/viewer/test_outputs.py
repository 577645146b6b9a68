"""Outputs and what is there already: replaced by their own kind only, whole or not at all."""

import errno
import os
from pathlib import Path

import pytest

from tests.sim.rigs import PHONE_CALL
from tests.viewer.run_command import run
from viewer.written.outputs import PICTURE, RIG, SCHEMA, SOMEBODYS, TICKET, objection, table

DEMO = "demo:quarry-hauler"

OTHERS = {
    "rig": PHONE_CALL.encode(),
    "picture": b"\x89PNG\r\n\x1a\n" + bytes(20),
    "somebody's table": b"part,price\nyoke,12\n",
    "somebody's JSON": b'{"customers": []}',
    "letter": b"Dear customer,\n",
    "scan": b"solid scan" + bytes(200),
}
"""Beginnings of files that nobody wants to lose."""

WRITERS = {
    "--table": ("check", DEMO, "--table"),
    "--path table": ("check", DEMO, "--path"),
    "--path plot": ("check", DEMO, "--path"),
    "--picture": ("check", DEMO, "--picture"),
    "pose --picture": ("pose", DEMO, "--picture"),
    "build --picture": ("build", DEMO, "--picture"),
    "--json-schema": ("new", "--json-schema"),
    "--aim table": ("cures", DEMO, "--aim"),
    "--aim plot": ("cures", DEMO, "--aim"),
    "--to": ("cures", DEMO, "--save", "1", "--to"),
    "--relief --picture": ("joint", DEMO, "pinion", "--relief", "30 deg", "--picture"),
    "new": ("new",),
}

ENDINGS = {"--table": ".csv", "--path table": ".csv", "--json-schema": ".json",
           "--aim table": ".csv", "--to": ".toml", "new": ".toml"}  # fmt: skip


@pytest.mark.parametrize("option", WRITERS)
@pytest.mark.parametrize("other", OTHERS)
def test_nothing_of_another_kind_is_replaced(
    option: str,
    other: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = tmp_path / f"there{ENDINGS.get(option, '.png')}"
    path.write_bytes(OTHERS[other])
    if path.suffix == ".png" and other == "picture":
        assert objection(path, PICTURE) == ""
        return
    ran = run(monkeypatch, capsys, *WRITERS[option], str(path))
    assert (ran.code, ran.out) == (2, "")
    assert len(ran.err.splitlines()) == 1
    assert str(path) in ran.err
    assert "--force" in ran.err
    assert path.read_bytes() == OTHERS[other]
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("option", ["--table", "--path", "--picture"])
def test_no_output_of_a_check_replaces_its_rig(
    option: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    rig = tmp_path / "R.toml"
    rig.write_text(PHONE_CALL, encoding="utf-8")
    link = tmp_path / "R.png"
    link.symlink_to(rig)
    for place in (rig, link):
        ran = run(monkeypatch, capsys, "check", str(rig), option, str(place))
        assert ran.code == 2
        assert len(ran.err.splitlines()) == 1
        assert rig.read_text(encoding="utf-8") == PHONE_CALL


@pytest.mark.slow
def test_older_outputs_are_replaced_and_force_replaces_anything(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    table_, path, schema = tmp_path / "t.csv", tmp_path / "p.csv", tmp_path / "s.json"
    words = ("check", DEMO, "--table", str(table_), "--path", str(path))
    assert run(monkeypatch, capsys, *words).code == 0
    assert run(monkeypatch, capsys, "new", "--json-schema", str(schema)).code == 0
    whole = {each: each.read_bytes() for each in (table_, path, schema)}
    empty = tmp_path / "empty.csv"
    empty.touch()
    assert run(monkeypatch, capsys, *words).code == 0
    assert run(monkeypatch, capsys, "new", "--json-schema", str(schema)).code == 0
    assert run(monkeypatch, capsys, "check", DEMO, "--table", str(empty)).code == 0
    assert {each: each.read_bytes() for each in whole} == whole
    assert empty.read_bytes() == whole[table_]
    # One table over the other: of another kind, for all that both are tables.
    swapped = ("check", DEMO, "--table", str(path))
    assert run(monkeypatch, capsys, *swapped).code == 2
    assert path.read_bytes() == whole[path]
    assert run(monkeypatch, capsys, *swapped, "--force").code == 0
    assert path.read_bytes() == whole[table_]


def test_two_outputs_never_share_a_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    one, other = str(tmp_path / "x.csv"), str(tmp_path / "." / "x.csv")
    ran = run(monkeypatch, capsys, "check", DEMO, "--table", one, "--path", other, "--force")
    assert ran.code == 2
    assert "expected a file of its own for each" in ran.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.slow
def test_an_export_never_replaces_a_scan(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("pose", DEMO, "--export", str(tmp_path))
    assert run(monkeypatch, capsys, *words).code == 0
    assert run(monkeypatch, capsys, *words).code == 0
    scan = next(tmp_path.glob("*yoke*.stl"))
    scan.write_bytes(b"scanner 3000".ljust(80) + bytes(4))
    for each in tmp_path.iterdir():
        if each != scan:
            each.unlink()
    ran = run(monkeypatch, capsys, *words)
    assert ran.code == 2
    assert str(scan) in ran.err
    assert list(tmp_path.iterdir()) == [scan]
    assert run(monkeypatch, capsys, *words, "--force").code == 0
    assert scan.read_bytes().startswith(b"Unit mm. Part: ")


FULL = {
    "--table": ("check", DEMO, "--table", "F.csv"),
    "--path table": ("check", DEMO, "--path", "F.csv"),
    "--path plot": ("check", DEMO, "--path", "F.png"),
    "--json-schema": ("new", "--json-schema", "F.json"),
    "build --picture": ("build", DEMO, "--picture", "F.png"),
    "--aim": ("cures", DEMO, "--aim", "F.csv"),
}


@pytest.mark.slow
@pytest.mark.parametrize("writer", FULL)
def test_a_full_disk_leaves_the_old_file(
    writer: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    words = [str(tmp_path / word) if word.startswith("F.") else word for word in FULL[writer]]
    path = Path(words[-1])
    assert run(monkeypatch, capsys, *words).code == 0
    before = path.read_bytes()

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        ran = run(patch, capsys, *words)
    assert ran.code == 2
    assert "No space left on device" in ran.err.splitlines()[-1]
    assert path.read_bytes() == before
    assert list(tmp_path.iterdir()) == [path]


def test_what_a_file_is_its_beginning_says(tmp_path: Path) -> None:
    path = tmp_path / "x"
    path.write_bytes(OTHERS["rig"])
    assert objection(path, RIG) == ""
    assert objection(path, PICTURE) == "a rig file"
    assert objection(path, SOMEBODYS) == "a rig file"
    path.write_bytes(OTHERS["rig"][: len(OTHERS["rig"]) // 2] + b"\n= broken\n")
    assert objection(path, RIG) == ""
    path.write_text("Wagon\nBUILD TICKET  at ride height\n", encoding="utf-8")
    assert objection(path, TICKET) == ""
    path.write_text('# For the build ticket.\n[drive]\nuse = "road"\n', encoding="utf-8")
    assert objection(path, TICKET) == "a rig file"
    path.write_text("Call Monday: the build ticket is wrong.\n", encoding="utf-8")
    assert objection(path, TICKET) == "a file of another kind"
    path.write_text("a,b\r\n1,2\r\n", encoding="utf-8", newline="")
    assert objection(path, table(["a", "b"])) == ""
    assert objection(path, table(["a", "c"])) == "a file of another kind"
    path.write_text("[" * 200_000, encoding="utf-8")
    assert objection(path, SCHEMA) == "a file of another kind"
    assert objection(tmp_path, PICTURE) == ""
    assert objection(tmp_path / "nothing", PICTURE) == ""
