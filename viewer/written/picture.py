"""Saving a picture, with a verdict that does not depend on it.

Drawing needs OpenGL. Where that is missing or faulty, the library does not raise an exception: it
ends the process it is in, or never comes back. So it gets a process of its own and a time limit,
and whatever happens to it comes back as one line.
"""

import os
import pickle
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from sim.kept.atomic import replace_file
from viewer.own_program import own_program, own_surroundings
from viewer.written.child import PICTURE, REASON, SUBJECT
from viewer.written.files import writable

if TYPE_CHECKING:
    from viewer.scene.page import Sheet

TIMEOUT = 120.0
"""Seconds a picture may take. Without a graphics card it takes three to five, so this hangs."""

COMMAND = own_program("viewer.written.child")
"""What draws."""

_NO_WINDOW: int = getattr(subprocess, "CREATE_NO_WINDOW", 0)
"""Keeps Windows from opening a console for the child."""

_WINDOWS_ABORT = 3
"""What Windows says of a program that called abort()."""


class PictureError(BindpointError, RuntimeError):
    """There is no picture; the message says why, and what is unharmed."""


class PictureFileError(PictureError, OSError):
    """The picture cannot be put where it is wanted."""


def save_picture(sheet: "Sheet", path: str | os.PathLike[str], timeout: float = TIMEOUT) -> None:
    """Draw a sheet as a PNG file; an older file is replaced as a whole.

    Raises
    ------
    PictureFileError
        When `path` cannot be written, found out before anything is drawn.
    PictureError
        When drawing fails in any way: nothing to draw with, a crash, no end after `timeout` s.
    """
    target = Path(path)
    _check_target(target)
    content = pickle.dumps(sheet, protocol=pickle.HIGHEST_PROTOCOL)
    with tempfile.TemporaryDirectory(prefix="bindpoint-", ignore_cleanup_errors=True) as folder:
        room = Path(folder)
        (room / SUBJECT).write_bytes(content)
        reason = ""
        for surroundings in _surroundings():
            reason = _drawn(room, surroundings, timeout)
            if not reason:
                with _into(target):
                    replace_file(target, (room / PICTURE).read_bytes())
                return
    raise PictureError(f"{target}: no picture, since {reason}")


def _drawn(room: Path, surroundings: dict[str, str], timeout: float) -> str:
    """Have the picture drawn into the folder; returns the reason where there is none."""
    log = room / "log.txt"
    with log.open("wb") as stream:
        try:
            done = subprocess.run(
                [*COMMAND, str(room)],
                stdin=subprocess.DEVNULL,
                stdout=stream,
                stderr=stream,
                env=surroundings,
                timeout=timeout,
                check=False,
                creationflags=_NO_WINDOW,
            )
        except subprocess.TimeoutExpired:
            return (
                f"the graphics driver had not drawn it after {timeout:g} s; the result itself "
                "is not affected"
            )
        except OSError as error:
            return f"the drawing process cannot be started ({error.strerror or error})"
    if done.returncode == 0 and (room / PICTURE).exists():
        return ""
    if (room / REASON).exists():
        return (room / REASON).read_text(encoding="utf-8")
    return _crash(done.returncode, log.read_text(encoding="utf-8", errors="replace"))


def _crash(code: int, log: str) -> str:
    """Say that the process ended without a word of its own."""
    if code < 0 or code >= 0x80000000 or (sys.platform == "win32" and code == _WINDOWS_ABORT):
        ended = f"signal {-code}" if code < 0 else f"code 0x{code:08X}"
        return (
            f"the graphics driver crashed ({ended}); this machine seems to have no working "
            "OpenGL. The result itself is not affected"
        )
    rows = [row.strip() for row in log.splitlines() if row.strip()]
    last = rows[-1] if rows else f"exit code {code}"
    return f"drawing failed ({last}); the result itself is not affected"


def _surroundings() -> Iterator[dict[str, str]]:
    """Environments to try: as it is, and on Linux without the display, which may be the fault."""
    ours = dict(os.environ)
    ours |= own_surroundings(ours.get("PYTHONPATH", ""))
    yield ours
    if sys.platform.startswith("linux") and ours.get("DISPLAY"):
        yield {key: value for key, value in ours.items() if key != "DISPLAY"}


def _check_target(target: Path) -> None:
    """Find out now, not after drawing, whether the file can be written."""
    if target.suffix.lower() != ".png":
        raise PictureFileError(f"{target}: pictures are PNG files; expected a name ending in .png")
    if target.is_dir():
        raise PictureFileError(f"{target}: this is a folder; expected the name of a file")
    with _into(target), tempfile.TemporaryFile(dir=target.parent):
        pass


def _into(target: Path) -> AbstractContextManager[None]:
    return writable(target, "the picture", "cannot be written there", kind=PictureFileError)
