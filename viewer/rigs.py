"""Finding the rig a user names: a file, or one of the demo rigs shipped with the program."""

from pathlib import Path

from sim.rig import Rig, load_rig
from sim.rig.demos import demo_names, load_demo

DEMO = "demo:"

__all__ = ["DEMO", "demo_names", "named_rig"]


def named_rig(name: str) -> Rig:
    """Load the rig of a file name or of `demo:NAME`.

    Raises
    ------
    RigError
        When the file is not there or not a sound rig, or there is no such demo.
    """
    return load_demo(name.removeprefix(DEMO)) if name.startswith(DEMO) else load_rig(Path(name))
