"""Finding the rig a user names: a file, or one of the demo rigs shipped with the program."""

from pathlib import Path

from sim.rig import Rig, load_rig
from sim.rig.demos import demo_names, demo_text, load_demo
from sim.table.reading import read_text

DEMO = "demo:"

__all__ = ["DEMO", "demo_names", "named_rig", "named_text"]


def named_rig(name: str) -> Rig:
    """Load the rig of a file name or of `demo:NAME`.

    Raises
    ------
    RigError
        When the file is not there or not a sound rig, or there is no such demo.
    """
    return load_demo(name.removeprefix(DEMO)) if name.startswith(DEMO) else load_rig(Path(name))


def named_text(name: str) -> str:
    """The text of what `named_rig` loads. Raises RigError as that does."""
    return demo_text(name.removeprefix(DEMO)) if name.startswith(DEMO) else read_text(Path(name))
