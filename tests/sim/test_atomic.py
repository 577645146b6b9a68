"""The one writer of files: what a full disk, a kill or another program leaves behind."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest

from sim.kept import atomic
from sim.kept.atomic import LEFTOVER, replace_file

ROOT = Path(atomic.__file__).resolve().parents[1]

HANGING = """
import os, sys, time
from pathlib import Path
from sim.kept.atomic import replace_file
def hang(_):
    print("writing", flush=True)
    time.sleep(600)
os.fsync = hang
replace_file(Path(sys.argv[1]), b"new" * 1000)
"""


def started_writing(path: Path) -> "subprocess.Popen[str]":
    """A real process in the middle of replacing a file."""
    process = subprocess.Popen(
        [sys.executable, "-c", HANGING, str(path)],
        stdout=subprocess.PIPE,
        text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "writing\n"
    return process


def leftovers(folder: Path) -> list[Path]:
    return [each for each in folder.iterdir() if LEFTOVER.fullmatch(each.name)]


def test_a_killed_writer_leaves_the_old_file_and_the_next_one_sweeps(tmp_path: Path) -> None:
    path = tmp_path / "poses.csv"
    path.write_text("old", encoding="utf-8")
    process = started_writing(path)
    process.kill()
    process.communicate()
    assert path.read_text(encoding="utf-8") == "old"
    assert len(leftovers(tmp_path)) == 1
    replace_file(tmp_path / "other.csv", b"other")
    assert leftovers(tmp_path) == []
    assert path.read_text(encoding="utf-8") == "old"


def test_what_a_living_writer_writes_is_left_alone(tmp_path: Path) -> None:
    process = started_writing(tmp_path / "poses.csv")
    try:
        replace_file(tmp_path / "other.csv", b"other")
        assert len(leftovers(tmp_path)) == 1
    finally:
        process.kill()
        process.communicate()


def test_only_our_own_leftovers_are_swept(tmp_path: Path) -> None:
    scan = tmp_path / "scan.stl"
    scan.write_bytes(b"scan")
    others = [".bindpoint-notes.part", "bindpoint-0123456789abcdef.part", ".x.0123abcd.part"]
    for name in others:
        (tmp_path / name).write_bytes(b"somebody's")
    (tmp_path / ".bindpoint-0123456789abcdef.part").symlink_to(scan)
    replace_file(tmp_path / "rig.toml", b"new")
    for name in (*others, "scan.stl"):
        assert (tmp_path / name).exists()
    assert scan.read_bytes() == b"scan"


def test_a_file_that_another_program_holds_is_tried_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # What Windows says while a scanner or an editor holds the file: error 5 or 32.
    path = tmp_path / "rig.toml"
    path.write_text("old", encoding="utf-8")
    replace, waited = os.replace, []

    def held(source: Path, target: Path) -> None:
        if len(waited) < 3:
            raise PermissionError(errno.EACCES, "The process cannot access the file")
        replace(source, target)

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.setattr(atomic, "sleep", waited.append)
    replace_file(path, b"new")
    assert path.read_bytes() == b"new"
    assert waited == list(atomic.WAITS[:3])


def test_a_file_that_stays_held_is_given_up_and_is_unharmed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "rig.toml"
    path.write_text("old", encoding="utf-8")
    waited: list[float] = []

    def held(*_: object) -> None:
        raise PermissionError(errno.EACCES, "The process cannot access the file")

    monkeypatch.setattr(os, "replace", held)
    monkeypatch.setattr(atomic, "sleep", waited.append)
    with pytest.raises(PermissionError):
        replace_file(path, b"new")
    assert waited == list(atomic.WAITS)
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


def test_a_file_beside_that_was_swept_before_its_lock_is_written_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    replace, names = os.replace, []

    def swept(source: Path, target: Path) -> None:
        names.append(source.name)
        if len(names) == 1:
            source.unlink()
        replace(source, target)

    monkeypatch.setattr(os, "replace", swept)
    replace_file(tmp_path / "rig.toml", b"new")
    assert (tmp_path / "rig.toml").read_bytes() == b"new"
    assert len(set(names)) == 2


def test_a_device_is_never_replaced(tmp_path: Path) -> None:
    path = tmp_path / "null"
    path.symlink_to(os.devnull)
    before = Path(os.devnull).stat()
    with pytest.raises(OSError, match="Not a plain file"):
        replace_file(path, b"new")
    assert Path(os.devnull).stat() == before


def test_a_write_protected_file_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "rig.toml"
    path.write_text("old", encoding="utf-8")
    path.chmod(0o444)
    # Whoever may do everything may write here too; asked as anybody else is.
    monkeypatch.setattr(os, "access", lambda file, _: bool(Path(file).stat().st_mode & 0o222))
    with pytest.raises(PermissionError):
        replace_file(path, b"new")
    assert path.read_text(encoding="utf-8") == "old"


def test_a_long_name_and_a_circle_of_links(tmp_path: Path) -> None:
    longest = tmp_path / ("r" * 250 + ".toml")  # 255 is what most file systems take
    replace_file(longest, b"new")
    assert longest.read_bytes() == b"new"
    (tmp_path / "a").symlink_to(tmp_path / "b")
    (tmp_path / "b").symlink_to(tmp_path / "a")
    with pytest.raises(OSError, match=r"[Ll]inks|circle"):
        replace_file(tmp_path / "a", b"new")
