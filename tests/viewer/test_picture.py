"""Saving a picture: it is there and whole, or one line says why there is none."""

import sys
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from geometry.errors import BindpointError
from tests.viewer.subjects import blocks, shaft, yokes
from viewer.written import picture as picture_module
from viewer.written.picture import PictureError, PictureFileError, save_picture

WITHOUT = (
    "import sys; sys.modules['{module}'] = None; from pathlib import Path;"
    "from viewer.written.child import main; sys.exit(main(Path(sys.argv[1])))"
)
"""The real child, in a world where one module cannot be imported."""


def child(monkeypatch, code: str) -> None:
    monkeypatch.setattr(picture_module, "COMMAND", (sys.executable, "-P", "-c", code))


def one_line(error: pytest.ExceptionInfo[BaseException]) -> str:
    text = str(error.value)
    assert "\n" not in text
    assert "Traceback" not in text
    return text


@pytest.mark.needs_gl
@pytest.mark.slow
@pytest.mark.parametrize("name", ["touching", "clear", "shaft"])
def test_a_picture_is_drawn_in_a_process_of_its_own(tmp_path: Path, name: str) -> None:
    subject = {"touching": lambda: yokes(31.0), "clear": lambda: yokes(20.0), "shaft": shaft}[name]
    save_picture(subject(), tmp_path / "a picture.PNG")
    with Image.open(tmp_path / "a picture.PNG") as read:
        image = np.asarray(read)
    assert image.shape == (1000, 1600, 3)
    assert 0.05 < (image < 250).any(axis=-1).mean() < 0.9
    assert [path.name for path in tmp_path.iterdir()] == ["a picture.PNG"]


@pytest.mark.slow
@pytest.mark.needs_gl
def test_an_older_picture_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "p.png"
    path.write_bytes(b"old")
    save_picture(blocks(1.0), str(path))
    assert path.read_bytes().startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("import os; os.abort()", "the graphics driver crashed"),
        ("import faulthandler as f; f._sigsegv()", "the graphics driver crashed"),
        ("import sys; sys.exit(7)", "drawing failed (exit code 7)"),
        ("raise RuntimeError('odd')", "drawing failed (RuntimeError: odd)"),
        ("pass", "drawing failed (exit code 0)"),
    ],
)
def test_a_child_that_dies_leaves_one_line_and_the_old_file(
    tmp_path: Path, monkeypatch, code: str, says: str
) -> None:
    child(monkeypatch, code)
    path = tmp_path / "p.png"
    path.write_bytes(b"old")
    with pytest.raises(PictureError) as error:
        save_picture(blocks(1.0), path)
    assert says in one_line(error)
    assert str(path) in one_line(error)
    assert "result itself is not affected" in one_line(error)
    assert path.read_bytes() == b"old"
    assert [each.name for each in tmp_path.iterdir()] == ["p.png"]


def test_a_child_that_hangs_is_stopped(tmp_path: Path, monkeypatch) -> None:
    child(monkeypatch, "import time; time.sleep(600)")
    with pytest.raises(PictureError) as error:
        save_picture(blocks(1.0), tmp_path / "p.png", timeout=0.5)
    assert "had not drawn it after 0.5 s" in one_line(error)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("module", ["pyvista", "vtkmodules", "PIL"])
def test_a_library_that_is_missing_is_named(tmp_path: Path, monkeypatch, module: str) -> None:
    child(monkeypatch, WITHOUT.format(module=module))
    with pytest.raises(PictureError) as error:
        save_picture(blocks(1.0), tmp_path / "p.png")
    assert "the drawing library does not load" in one_line(error)
    assert module in one_line(error)


def test_a_program_that_cannot_be_started_is_one_line(tmp_path: Path, monkeypatch) -> None:
    monkeypatch.setattr(picture_module, "COMMAND", (str(tmp_path / "no such program"),))
    with pytest.raises(PictureError) as error:
        save_picture(blocks(1.0), tmp_path / "p.png")
    assert "cannot be started" in one_line(error)


@pytest.mark.slow
def test_a_machine_without_opengl_gives_a_picture_or_one_line(tmp_path: Path, monkeypatch) -> None:
    """No display and no EGL vendor: on Linux the library then ends the process it is in."""
    monkeypatch.delenv("DISPLAY", raising=False)
    monkeypatch.setenv("__EGL_VENDOR_LIBRARY_DIRS", str(tmp_path / "nowhere"))
    path = tmp_path / "p.png"
    reason = ""
    try:
        save_picture(blocks(1.0), path)
    except PictureError as error:
        reason = str(error)
    assert path.exists() != bool(reason)
    if sys.platform == "linux":
        assert "no working OpenGL" in reason
        assert "\n" not in reason


def test_without_its_display_linux_gets_a_second_try(monkeypatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setenv("DISPLAY", ":0")
    first, second = picture_module._surroundings()
    assert first["DISPLAY"] == ":0"
    assert "DISPLAY" not in second
    monkeypatch.delenv("DISPLAY")
    assert len(list(picture_module._surroundings())) == 1
    monkeypatch.setattr(sys, "platform", "win32")
    monkeypatch.setenv("DISPLAY", ":0")
    assert len(list(picture_module._surroundings())) == 1


def test_the_child_finds_this_program_and_not_the_users_folder(tmp_path: Path, monkeypatch) -> None:
    (tmp_path / "viewer.py").write_text("raise SystemExit(9)")
    monkeypatch.chdir(tmp_path)
    child(monkeypatch, "import viewer, sys; print(viewer.__file__, file=sys.stderr); sys.exit(3)")
    with pytest.raises(PictureError, match=r"__init__\.py"):
        save_picture(blocks(1.0), tmp_path / "p.png")


def test_a_place_that_cannot_be_written_is_found_out_before_drawing(
    tmp_path: Path, monkeypatch
) -> None:
    child(monkeypatch, "raise SystemExit('never started')")
    (tmp_path / "file").write_text("x")
    (tmp_path / "folder.png").mkdir()
    for path, says in (
        (tmp_path / "no folder" / "p.png", "cannot be written there"),
        (tmp_path / "file" / "p.png", "cannot be written there"),
        (tmp_path / "folder.png", "this is a folder"),
        (tmp_path / "p.gif", "expected a name ending in .png"),
        (tmp_path / "p", "expected a name ending in .png"),
    ):
        with pytest.raises(PictureFileError) as error:
            save_picture(blocks(1.0), path)
        assert says in one_line(error)
        assert str(path) in one_line(error)


def test_errors_are_of_the_house_and_of_python() -> None:
    assert issubclass(PictureError, BindpointError)
    assert issubclass(PictureError, RuntimeError)
    assert issubclass(PictureFileError, OSError)
