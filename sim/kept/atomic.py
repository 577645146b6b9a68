"""Replacing a file as a whole: either the new content is there, or the old one still is.

The new content is written beside the file and then put in its place in one step. A writer holds its
file beside locked, so that what a killed one left is known by being free, and swept by the next
writer in that folder.
"""

import errno
import os
import re
import secrets
import shutil
from contextlib import suppress
from pathlib import Path
from time import sleep
from typing import Final

from sim.kept.lock import taken

LEFTOVER: Final = re.compile(r"\.bindpoint-[0-9a-f]{16}\.part")
"""Names of what is being written; nobody else calls a file so."""

WAITS: Final = (0.05, 0.1, 0.2, 0.4, 0.8)
"""s between tries where another program holds the file, as a virus scanner on Windows does."""

_TRIES: Final = 3
"""Times the file beside is written anew where another writer swept it just before its lock."""


def replace_file(path: Path, content: bytes, to_disk: bool = True) -> None:
    """Write beside the file, force it to the disk, then put it in the file's place.

    to_disk : False for what can be had again, such as a cache; it is then left to the system when
        it gets to the disk.

    Raises OSError with the old file untouched and nothing left beside it.
    """
    try:
        target = path.resolve()  # a link keeps pointing to the file that is replaced
    except RuntimeError:  # links that go round in a circle
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP), str(path)) from None
    _demand_plain(target)
    _sweep(target.parent)
    for _ in range(_TRIES - 1):
        with suppress(FileNotFoundError):
            _written(target, content, to_disk)
            return
    _written(target, content, to_disk)


def _written(target: Path, content: bytes, to_disk: bool) -> None:
    beside = target.with_name(f".bindpoint-{secrets.token_hex(8)}.part")
    try:
        with beside.open("xb") as stream:
            taken(stream.fileno())
            stream.write(content)
            stream.flush()
            if to_disk:
                os.fsync(stream.fileno())
        if target.exists():
            shutil.copymode(target, beside)
        _put_in_place(beside, target)
    finally:
        # In its place already where all went well; else whatever stopped it, nothing is left.
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _put_in_place(beside: Path, target: Path) -> None:
    for wait in WAITS:
        try:
            os.replace(beside, target)  # noqa: PTH105  the one call that replaces on every system
        except PermissionError:
            sleep(wait)
        else:
            return
    os.replace(beside, target)  # noqa: PTH105


def _demand_plain(target: Path) -> None:
    """Refuse what is no file to replace: a folder, a device, a file that is write-protected."""
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(target))
    if not target.exists():
        return
    if not target.is_file():
        raise OSError(errno.EINVAL, "Not a plain file", str(target))
    if not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, "Write-protected", str(target))


def _sweep(folder: Path) -> None:
    """Take away what killed writers left; whatever is still held or not ours stays."""
    with suppress(OSError):
        for each in folder.iterdir():
            if LEFTOVER.fullmatch(each.name) and not each.is_symlink() and _is_free(each):
                each.unlink(missing_ok=True)


def _is_free(file: Path) -> bool:
    try:
        handle = os.open(file, os.O_RDWR)
    except OSError:
        return False
    try:
        return taken(handle)
    finally:
        os.close(handle)
