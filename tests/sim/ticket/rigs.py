"""Rigs that the tests of the ticket start from."""

from sim.rig import Rig, changed, load_demo, parse_rig
from sim.ticket.ticket import Ticket, build_ticket
from tests.kept import kept
from tests.sim.rigs import COORDINATES

DRIVE = """
[drive]
engine_torque = "240 lb-ft"
low_gear = 3.6
low_range = 2.0
gearbox_efficiency = 0.85
case_efficiency = 0.95
axle_ratio = 4.1
axle_load = "1900 lb"
tyre_radius = "16 in"
friction = 0.9
use = "road"
comes_on = "slowly"
top_speed = "70 mph"
top_gear = 0.8
engine_top = "4500 rpm"
balance = "G16"
"""


def plain() -> Rig:
    """A rig without a drive."""
    return parse_rig(COORDINATES)


def driven(**values: object) -> Rig:
    """A rig with a whole drive, and other values in it; nothing near it, no gap looked for."""
    rig = parse_rig(COORDINATES + DRIVE)
    keys = {key if "." in key else f"drive.{key}": value for key, value in values.items()}
    return changed(rig, {"surroundings": [], "wanted.gap": "0 in"} | keys)


def with_crossmember(height: str, wanted: str = "1/2 in") -> Rig:
    """The quarry hauler with its crossmember's middle so high above the axle."""
    box = {"at": ["40 in", "0 in", height], "size": ["3 in", "30 in", "4 in"]}
    named = [{"name": "crossmember", "box": box}]
    return changed(load_demo("quarry-hauler"), {"surroundings": named, "wanted.clearance": wanted})


@kept
def demo_ticket(name: str) -> Ticket:
    """Ticket of a demo rig."""
    return build_ticket(load_demo(name))
