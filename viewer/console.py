"""The terminal: plain output, progress on what takes long, one line for an error.

Everything that is printed goes through here. What a user's file or a file's name brings along
cannot act on the terminal: control characters and marks of direction are told by their number.
"""

import json
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from time import monotonic
from typing import TYPE_CHECKING, Any, TextIO

from geometry.errors import BindpointError
from geometry.printable import shown

if TYPE_CHECKING:
    from sim.progress import Progress

SILENT_FOR = 0.3
"""Seconds of work before progress is shown, so that quick answers come without flicker."""


class OutputError(BindpointError, OSError):
    """The standard output cannot take what is said."""


def say(text: str) -> None:
    """Print lines on the standard output. Raises OutputError where it is closed or full."""
    put(f"{text}\n")


def say_json(data: Any) -> None:
    """Print one JSON object."""
    say(json.dumps(data, indent=2))


def put(text: str) -> None:
    """Print without a line's end, at once, as a question is. Raises OutputError."""
    if sys.stdout is None:
        raise OutputError("standard output: it is closed, expected one that can be written to")
    try:
        sys.stdout.write(shown(text.replace("\t", " "), keep="\n"))
        sys.stdout.flush()
    except BrokenPipeError:
        raise OutputError("standard output: closed before everything was said") from None
    except (OSError, ValueError) as error:  # ValueError: the stream is closed
        why = getattr(error, "strerror", None) or str(error)
        raise OutputError(f"standard output: could not be written ({why})") from None


def note(line: str) -> None:
    """Print one line beside the answer, on the error stream, if there is anybody to read it."""
    with suppress(OSError, ValueError, AttributeError):
        sys.stderr.write(f"{shown(line.replace(chr(9), ' '))}\n")
        sys.stderr.flush()


def complain(error: BaseException) -> None:
    """Say what is wrong on the error stream, one line a problem."""
    for line in _words(error).split("\n"):
        note(f"bindpoint: {line}")


def _words(error: BaseException) -> str:
    """What an error says; only one of a rig file is worth the room of words, which loads sim."""
    if not hasattr(error, "problems"):
        return str(error)
    from viewer.words.problems import error_words

    return error_words(error)


def let_go() -> bool:
    """Flush both streams before the end; whether everything said has gone out.

    A stream that cannot take the rest is turned away from it, or the end would complain again.
    """
    all_out = sys.stdout is not None
    for stream in (sys.stdout, sys.stderr):
        try:
            if stream is not None:
                stream.flush()
        except (OSError, ValueError):
            all_out = all_out and stream is not sys.stdout
            _turn_away(stream)
    return all_out


def _turn_away(stream: TextIO) -> None:
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


@contextmanager
def progress(quiet: bool = False) -> "Iterator[Progress]":
    """Show progress on the error stream while work goes on; nothing where it is no terminal."""
    if quiet or sys.stderr is None or not sys.stderr.isatty():
        yield lambda _what, _share: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    started = monotonic()
    bars = Bars(
        # Without markup: a file's name in brackets is a name.
        TextColumn("{task.description}", markup=False),
        BarColumn(),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task = bars.add_task("reading the rig", total=1.0)

    def tell(what: str, share: float) -> None:
        if not bars.live.is_started and (monotonic() - started > SILENT_FOR or share < 1.0):
            bars.start()
        bars.update(task, description=shown(what), completed=share)

    try:
        yield tell
    finally:
        bars.stop()
