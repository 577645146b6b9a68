"""The demo rigs that are shipped with the program."""

from sim.rig.reading import parse_rig
from sim.rig.rig import Rig
from sim.table.shipped import Shipped

_RIGS = Shipped("rigs", "demo rig")


def demo_names() -> tuple[str, ...]:
    """Names of the demo rigs, such as "quarry-hauler"."""
    return _RIGS.names()


def demo_text(name: str) -> str:
    """The text of a demo rig's file. Raises `RigError` for an unknown name."""
    return _RIGS.text(name)


def load_demo(name: str) -> Rig:
    """A demo rig by its name. Raises `RigError` for an unknown name."""
    return parse_rig(demo_text(name), f"{name}.toml")
