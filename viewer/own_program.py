"""Another program of the house, started by this one: by Python, or by the packed program itself.

A packed program brings no Python that could be told `-m`; its own file starts the module then, see
`viewer.packed`.
"""

import os
import sys
from pathlib import Path

CHILD = "--child"
"""Word with which a packed program is told to be one of its modules."""


def is_packed() -> bool:
    """Whether this runs as one folder made by the freezing tool, without a Python beside it."""
    return bool(getattr(sys, "frozen", False))


def own_program(module: str) -> tuple[str, ...]:
    """What starts a module of the house as a program; its arguments follow.

    -P keeps the folder the user is in from being searched for modules.
    """
    how = (CHILD,) if is_packed() else ("-P", "-m")
    return (sys.executable, *how, module)


def own_surroundings(path: str = "") -> dict[str, str]:
    """Variables with which `own_program` finds the house, after those of `path`, PYTHONPATH now."""
    if is_packed():
        return {}
    root = str(Path(__file__).resolve().parents[1])
    return {"PYTHONPATH": os.pathsep.join(filter(None, [root, path]))}
