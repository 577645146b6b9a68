"""One program at a time makes an answer; the others wait for it and find it kept."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Final

LONGEST: Final = 60.0
"""s that is waited; then it is made twice, which costs time and changes nothing."""


@contextmanager
def by_one(place: Path) -> Iterator[None]:
    """Hold everybody else off while the entry of a place is made.

    Whoever ends, however, lets go. Places share 16 locks a folder, so that these do not pile up.
    Where no lock can be had, as in a folder that cannot be written, nobody is held off.
    """
    # Read late: what is kept needs none.
    from filelock import FileLock, Timeout  # noqa: PLC0415

    lock = FileLock(place.parent / f"{place.name[0]}.lock")
    # What a disk without locks raises, by the library's own word, is the second.
    with suppress(OSError, NotImplementedError, Timeout):
        place.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire(timeout=LONGEST, poll_interval=0.1)
    try:
        yield
    finally:
        lock.release()
