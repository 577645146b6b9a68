"""Replacing a file as a whole: either the new content is there, or the old one still is."""

import os
import secrets
import shutil
from contextlib import suppress
from pathlib import Path


def replace_file(path: Path, content: bytes) -> None:
    """Write beside the file, force it to the disk, then put it in the file's place.

    Raises OSError with the old file untouched and nothing left beside it.
    """
    target = path.resolve()  # a link keeps pointing to the file that is replaced
    beside = target.with_name(f".{target.name}.{secrets.token_hex(4)}.part")
    try:
        with beside.open("xb") as stream:
            stream.write(content)
            stream.flush()
            os.fsync(stream.fileno())
        if target.exists():
            shutil.copymode(target, beside)
        os.replace(beside, target)  # noqa: PTH105  the one call that replaces on every system
    finally:
        # In its place already where all went well; else whatever stopped it, nothing is left.
        with suppress(OSError):
            beside.unlink(missing_ok=True)
