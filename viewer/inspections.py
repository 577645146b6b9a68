"""Finding the inspection a user names: a file, or one of the demos shipped with the program."""

from pathlib import Path

from sim.seen import Inspection, load_inspection
from sim.seen.demos import load_demo
from viewer.rigs import DEMO


def named_inspection(name: str) -> Inspection:
    """Load the inspection of a file name or of `demo:NAME`.

    Raises RigError where the file is not there or no sound inspection, or there is no such demo.
    """
    return (
        load_demo(name.removeprefix(DEMO)) if name.startswith(DEMO) else load_inspection(Path(name))
    )
