"""The demo inspections that are shipped with the program, named like the rigs they go with."""

from sim.seen.inspection import Inspection
from sim.seen.reading import parse_inspection
from sim.table.shipped import Shipped

_INSPECTIONS = Shipped("inspections", "demo inspection")


def demo_names() -> tuple[str, ...]:
    """Names of the demo inspections, such as "quarry-hauler"."""
    return _INSPECTIONS.names()


def demo_text(name: str) -> str:
    """The text of a demo inspection's file. Raises `RigError` for an unknown name."""
    return _INSPECTIONS.text(name)


def load_demo(name: str) -> Inspection:
    """A demo inspection by its name. Raises `RigError` for an unknown name."""
    return parse_inspection(demo_text(name), f"{name}.toml")
