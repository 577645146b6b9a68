"""From a file on disk to a rig."""

from os import PathLike
from pathlib import Path

from sim.rig.rig import Rig
from sim.rig.validation import rig_from_data
from sim.table.reading import parse_toml, read_text


def load_rig(path: str | PathLike[str]) -> Rig:
    """Read and check a rig file. Raises `RigError` with everything that is wrong with it."""
    rig = parse_rig(read_text(path), str(path))
    rig._folder = Path(path).parent
    return rig


def parse_rig(text: str, file: str = "rig") -> Rig:
    """Read and check the text of a rig file; `file` is what errors call it."""
    return rig_from_data(parse_toml(text, file), file)
