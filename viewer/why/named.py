"""Finding the inspection a user names: a file, or one of the demos shipped with the program."""

from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

from sim.seen import Inspection, load_inspection, parse_inspection
from sim.table.problems import one_problem
from viewer.rigs import DEMO

_END = ".toml"


def named_inspection(name: str) -> Inspection:
    """Load the inspection of a file name or of `demo:NAME`.

    Raises RigError where the file is not there or no sound inspection, or there is no such demo.
    """
    if not name.startswith(DEMO):
        return load_inspection(Path(name))
    return parse_inspection(demo_inspection(name.removeprefix(DEMO)), name)


def demo_inspections() -> tuple[str, ...]:
    """Names of the demo inspections; each goes with the demo rig of its name."""
    names = (each.name for each in _folder().iterdir())
    return tuple(sorted(name.removesuffix(_END) for name in names if name.endswith(_END)))


def demo_inspection(name: str) -> str:
    """The text of a demo inspection. Raises RigError for an unknown name."""
    names = demo_inspections()
    if name not in names:
        close = get_close_matches(name, names, 1)
        hint = f"; did you mean {close[0]}?" if close else ""
        raise one_problem(
            name, "", "an unknown demo inspection", f"one of {', '.join(names)}{hint}"
        )
    return _folder().joinpath(name + _END).read_text(encoding="utf-8")


def _folder() -> Traversable:
    return files("models").joinpath("inspections")
