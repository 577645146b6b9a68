"""The inspection a user names, a file or a demo of the program, and where one of a rig is kept."""

from pathlib import Path
from typing import Final

from sim.seen import Inspection, load_inspection
from sim.seen.demos import load_demo
from sim.vehicle import Joint
from viewer.rigs import DEMO

END: Final = "-seen.toml"
"""What the name of an inspection ends with where nobody gave it one."""


def named_inspection(name: str) -> Inspection:
    """Load the inspection of a file name or of `demo:NAME`.

    Raises RigError where the file is not there or no sound inspection, or there is no such demo.
    """
    return (
        load_demo(name.removeprefix(DEMO)) if name.startswith(DEMO) else load_inspection(Path(name))
    )


def beside_rig(rig: Path, joint: Joint | None = None) -> Path:
    """Where the inspection of a rig file is kept as a rule: beside it.

    joint : which one, where each of its joints has one.
    """
    return rig.with_name(f"{rig.stem}{'' if joint is None else f'-{joint}'}{END}")


def other_rig(seen: Inspection, name: str) -> str:
    """The rig that an inspection says it is of, where that is another one; else "".

    name : of the rig, a file or demo:NAME. A file moved to another folder is the same one still.
    """
    said = seen.rig or ""
    return said if said and _stem(said) != _stem(name) else ""


def _stem(name: str) -> str:
    """A name without its folder, its ending, or the word that makes it a demo."""
    return (
        Path(name.strip().removeprefix(DEMO).replace("\\", "/")).name.removesuffix(".toml").lower()
    )
