"""Where the packed program starts: one folder that needs no Python, made as DEVELOPERS.md says.

The folder holds this twice: `bindpoint` is the command line, `bindpoint-window` opens the window,
by a double click too, on a rig file that is dropped on it. Both can be a module of the house that
they start themselves, and the process that computes.
"""

import os
import sys
from collections.abc import Sequence
from importlib import import_module
from multiprocessing import freeze_support
from pathlib import Path
from runpy import run_module

from viewer.own_program import CHILD

CHILDREN = ("viewer.written.child", "viewer.yoke.shelf", "viewer.yoke.trial")
"""Modules that are started as programs; no other is."""

WINDOW = "-window"
"""How the name of the program ends that opens the window."""


def words_of(program: str, arguments: Sequence[str]) -> list[str]:
    """What was typed, as the command line reads it, by the name of the program that runs."""
    opens = Path(program).stem.lower().endswith(WINDOW)
    return ["window", *arguments] if opens else list(arguments)


def main() -> None:
    """Be what the name of the program and its arguments say."""
    _give_streams()
    freeze_support()
    asked = sys.argv[1:]
    if len(asked) > 1 and asked[0] == CHILD and asked[1] in CHILDREN:
        sys.argv = [asked[1], *asked[2:]]
        run_module(asked[1], run_name="__main__", alter_sys=True)
        return
    sys.argv = [sys.argv[0], *words_of(sys.executable, asked)]
    import_module("viewer.start").main()


def _give_streams() -> None:
    """On Windows a program without a console has no streams; what is told then is told nobody."""
    for name in ("stdout", "stderr"):
        if getattr(sys, name) is None:
            nowhere = Path(os.devnull).open("w", encoding="utf-8")  # noqa: SIM115  to the end
            setattr(sys, name, nowhere)


if __name__ == "__main__":
    main()
