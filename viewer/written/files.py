"""Writing files for the user: one clear line when it does not work."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from geometry.errors import BindpointError


class FileError(BindpointError, OSError):
    """A file that cannot be written where the user wants it."""


class AskedError(BindpointError, ValueError):
    """Options that do not go together, or too few of them."""


@contextmanager
def writable(
    path: Path,
    what: str,
    says: str = "could not be written",
    place: str = "a place",
    kind: type[BindpointError] = FileError,
) -> Iterator[None]:
    """Turn an operating system's complaint about `path` into one line for the user, of a kind."""
    try:
        yield
    except (OSError, ValueError) as error:  # ValueError: a NUL inside a path
        if isinstance(error, BindpointError):
            raise
        reason = getattr(error, "strerror", None) or str(error)
        raise kind(
            f"{path}: {what} {says} ({reason}); expected {place} that can be written to"
        ) from error


def replace(path: Path, content: bytes | str, what: str) -> None:
    """Write a file as a whole; what was there stays where that fails. Raises FileError.

    Whether it may replace what is there, `viewer.written.outputs` says.
    """
    from sim.kept.atomic import replace_file  # late: this file is read for --help, too

    with writable(path, what):
        replace_file(path, content.encode() if isinstance(content, str) else content)
