"""A rig as a commented TOML text: what each value means, and what was assumed for the rest."""

from os import PathLike
from typing import Final

from sim.rig.rig import Rig
from sim.table.document import commented, save_text

_HEAD: Final = (
    "A rig file of Bindpoint. Every length and angle has its unit; inches may have a fraction, "
    "such as 36 5/16 in. Points are [forward, left, up] from the center of the axle housing at "
    "ride height. A line that starts with # is a remark; a remark that shows a value shows what "
    "is assumed as long as the line is missing: take away the # and put your own value there."
)


def rig_text(rig: Rig) -> str:
    """TOML text of a rig with a remark on every key, and the assumed values as remarks."""
    return commented(Rig, rig.typed(), _HEAD, {each.key: each for each in rig.assumed})


def save_rig(rig: Rig, path: str | PathLike[str]) -> None:
    """Save a rig with a remark on every key, as a whole.

    Raises `RigError` when it cannot be saved; the old file is then untouched.
    """
    save_text(rig_text(rig), path)
