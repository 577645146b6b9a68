"""From the shell to a command and back: however it ends, an exit code and at most one line.

Read first and alone, so that Ctrl+C while everything else is read is met, too.
"""

from __future__ import annotations

import os
import signal
import sys
import warnings

from viewer.endings import BAD_INPUT, CLEAR, STOPPED, TOUCHES

TYPE_CHECKING = False
"""Of `typing`, which would take longer to read than all of this file."""

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import FrameType
    from typing import NoReturn

_SHOW_CURSOR = "\x1b[?25h"
"""Brings back the cursor that a bar of progress hides."""


def main() -> None:
    """Run the program on what was typed."""
    try:
        signal.signal(signal.SIGINT, _on_stop)
        _make_ready()
        code = answered(sys.argv[1:])
        # From here on there is nothing to unwind: Ctrl+C ends the process, and says nothing.
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    except KeyboardInterrupt:  # between two commands of ours, where nothing else is waiting for it
        _leave()
    sys.exit(code)


def _make_ready() -> None:
    """Warnings, streams: nothing of the system's may come between the user and one clear line."""
    sys.unraisablehook = _on_unraisable
    if not sys.warnoptions:
        warnings.simplefilter("ignore")  # what libraries warn each other of is no user's matter
    _open_all()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            # A terminal that cannot show a character gets a stand-in, not a crash.
            stream.reconfigure(errors="replace")


def answered(words: Sequence[str]) -> int:
    """Do what was typed; the exit code. Every error that a user can mend is one line and 2."""
    from viewer.console import let_go, note

    code = _done(words)
    if not let_go() and code in (CLEAR, TOUCHES):
        note("bindpoint: standard output: could not be written")
        return BAD_INPUT
    return code


def _done(words: Sequence[str]) -> int:
    from geometry.errors import BindpointError
    from viewer.console import complain, note

    try:
        from viewer.command_line import run

        return run(words)
    except BindpointError as error:
        complain(error)
    except KeyboardInterrupt:
        note("bindpoint: stopped")
        return STOPPED
    except SystemExit as ended:  # a library that gave up, on a closed pipe as a rule
        if not ended.code:
            return CLEAR
        note("bindpoint: standard output: closed before everything was said")
    except OSError as error:
        note(f"bindpoint: {_told(error)}")
    except Exception as fault:  # noqa: BLE001  an exit code of 1 would say that it touches
        from viewer.fault_log import logged

        note(f"bindpoint: a fault of the program ({type(fault).__name__}: {fault}); {logged()}")
    return BAD_INPUT


def _told(error: OSError) -> str:
    """What the system says, with the file it speaks of."""
    try:
        os.getcwd()  # noqa: PTH109  nothing but whether it is there
    except OSError:
        return "the folder that this runs in is not there any more, expected one that is"
    if error.filename:
        return f"{error.filename}: {error.strerror or error}"
    return f"standard output: could not be written ({error.strerror or error})"


def _on_stop(_: int, frame: FrameType | None) -> None:
    """Stop by unwinding; at once while a library is read, which may not survive an exception."""
    while frame is not None:
        if frame.f_code.co_filename.startswith("<frozen importlib"):
            _leave()
        frame = frame.f_back
    raise KeyboardInterrupt


def _on_unraisable(told: sys.UnraisableHookArgs) -> None:
    """Where no exception can be raised any more, Ctrl+C still stops the program."""
    if told.exc_type is KeyboardInterrupt:
        _leave()
    sys.__unraisablehook__(told)


def _leave() -> NoReturn:
    """End at once. Files are safe: they are written beside and then put in place."""
    cursor = _SHOW_CURSOR if "rich.live" in sys.modules and os.isatty(2) else ""
    os.write(2, f"{cursor}bindpoint: stopped\n".encode())
    os._exit(STOPPED)


def _open_all() -> None:
    """Give closed streams a place that leads nowhere, or the next file would be taken for one."""
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)


if __name__ == "__main__":
    main()
