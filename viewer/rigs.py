"""Finding the rig a user names: a file, or one of the demo rigs shipped with the program."""

from importlib.resources import as_file, files
from pathlib import Path

from geometry.errors import BindpointError
from sim.rig import Rig, load_rig

DEMO = "demo:"


class NoSuchDemoError(BindpointError, LookupError):
    """A demo rig that is not there."""


def demo_names() -> list[str]:
    """Names of the demo rigs."""
    folder = files("models") / "rigs"
    return sorted(Path(f.name).stem for f in folder.iterdir() if f.name.endswith(".toml"))


def named_rig(name: str) -> Rig:
    """Load the rig of a file name or of `demo:NAME`.

    Raises
    ------
    RigError
        When the file is not there or not a sound rig.
    NoSuchDemoError
        When there is no such demo rig.
    """
    if not name.startswith(DEMO):
        return load_rig(Path(name))
    demo = name.removeprefix(DEMO)
    if demo not in demo_names():
        raise NoSuchDemoError(
            f'{name}: there is no demo rig "{demo}"; expected one of '
            f"{', '.join(DEMO + known for known in demo_names())}"
        )
    with as_file(files("models") / "rigs" / f"{demo}.toml") as file:
        return load_rig(file)
