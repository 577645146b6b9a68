"""The terminal: plain output, progress on what takes long, one line for an error."""

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic

from sim.check import Progress

SILENT_FOR = 0.3
"""Seconds of work before progress is shown, so that quick answers come without flicker."""


@contextmanager
def progress(quiet: bool = False) -> Iterator[Progress]:
    """Show progress on the error stream while work goes on; nothing where it is no terminal."""
    if quiet or not sys.stderr.isatty():
        yield lambda _what, _share: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, TextColumn, TimeElapsedColumn
    from rich.progress import Progress as Bars

    started = monotonic()
    bars = Bars(
        TextColumn("{task.description}"),
        BarColumn(),
        TimeElapsedColumn(),
        console=Console(stderr=True),
        transient=True,
    )
    task = bars.add_task("reading the rig", total=1.0)

    def tell(what: str, share: float) -> None:
        if not bars.live.is_started and (monotonic() - started > SILENT_FOR or share < 1.0):
            bars.start()
        bars.update(task, description=what, completed=share)

    try:
        yield tell
    finally:
        bars.stop()


def complain(error: BaseException) -> None:
    """Say what is wrong on the error stream, one line a problem."""
    for line in str(error).splitlines():
        sys.stderr.write(f"bindpoint: {line}\n")
