"""The demo rigs that are shipped with the program. All of them are invented."""

from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable

from sim.rig.reading import parse_rig
from sim.rig.rig import Rig
from sim.table.problems import one_problem

_END = ".toml"


def demo_names() -> tuple[str, ...]:
    """Names of the demo rigs, such as "quarry-hauler"."""
    names = (each.name for each in _folder().iterdir())
    return tuple(sorted(name.removesuffix(_END) for name in names if name.endswith(_END)))


def demo_text(name: str) -> str:
    """The text of a demo rig's file. Raises `RigError` for an unknown name."""
    names = demo_names()
    if name not in names:
        close = get_close_matches(name, names, 1)
        hint = f"; did you mean {close[0]}?" if close else ""
        raise one_problem(name, "", "an unknown demo rig", f"one of {', '.join(names)}{hint}")
    return _folder().joinpath(name + _END).read_text(encoding="utf-8")


def load_demo(name: str) -> Rig:
    """A demo rig by its name. Raises `RigError` for an unknown name."""
    return parse_rig(demo_text(name), name + _END)


def _folder() -> Traversable:
    return files("models").joinpath("rigs")
