"""Writing a rig file: a save that loses nothing where it fails."""

from os import PathLike
from pathlib import Path

from sim.kept.atomic import replace_file
from sim.rig.document import rig_text
from sim.rig.rig import Rig
from sim.table.problems import one_problem


def save_rig(rig: Rig, path: str | PathLike[str]) -> None:
    """Save a rig with a remark on every key, as a whole.

    Raises `RigError` when it cannot be saved; the old file is then untouched.
    """
    try:
        replace_file(Path(path), rig_text(rig).encode("utf-8"))
    except (OSError, ValueError) as fault:  # ValueError: a NUL inside a path
        why = getattr(fault, "strerror", None) or "not a path"
        raise one_problem(
            str(path), "", str(why).lower(), "a place to save to; the old file is untouched"
        ) from None
