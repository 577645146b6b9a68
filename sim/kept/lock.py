"""A mark that a process is alive: a locked file that the system lets go when the process ends.

A number of a process would do worse: the system hands it out again.
"""

import os
import sys
from contextlib import suppress
from pathlib import Path

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int) -> None:
        msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
else:
    import fcntl

    def _take(handle: int) -> None:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)


def taken(handle: int) -> bool:
    """Lock an open file until it is closed; False where somebody else holds it."""
    try:
        _take(handle)
    except OSError:
        return False
    return True


class Lock:
    """A lock on a file, held from `take` until `release` or the end of the process."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._handle: int | None = None

    @property
    def is_held(self) -> bool:
        """Whether it is ours."""
        return self._handle is not None

    def take(self) -> bool:
        """Take it if nobody else has it; whether it is ours now. Raises OSError for a bad place."""
        if self._handle is not None:
            return True
        handle = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o600)
        if not taken(handle):
            os.close(handle)
            return False
        self._handle = handle
        return True

    def release(self) -> None:
        """Let go and take the file away."""
        if self._handle is None:
            return
        handle, self._handle = self._handle, None
        if sys.platform == "win32":
            os.close(handle)  # an open file cannot be taken away there
            with suppress(OSError):
                self.path.unlink(missing_ok=True)
        else:
            with suppress(OSError):
                self.path.unlink(missing_ok=True)
            os.close(handle)
