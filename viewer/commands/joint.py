"""`bindpoint joint`: when one joint touches, over a whole turn."""

from typing import Any

from geometry.contact.touch import TouchCurve
from sim.hardware.head import EndHardware, end_hardware
from sim.vehicle import Joint
from viewer.commands.answer import answer
from viewer.console import progress
from viewer.encoder import keyed, plain
from viewer.endings import CLEAR
from viewer.rigs import named_rig
from viewer.words.touch_curve import curve_lines

_CURVE = (
    "spin_deg=spin touch_deg=touch certified_clear_deg=certified_clear touch_min_deg=touch_min "
    "spin_at_min_deg=first.spin"
)


def run(name: str, joint: Joint, as_json: bool) -> int:
    """Print the touch curve of a joint; return the exit code."""
    rig = named_rig(name)
    with progress() as tell:
        tell(f"{joint} joint: building the yokes", 0.1)
        hardware = end_hardware(rig, joint)
        tell(f"{joint} joint: finding where it touches", 0.3)
        curve = hardware.touch()
    answer(
        as_json,
        lambda: joint_data(hardware, curve),
        lambda: "\n".join(curve_lines(rig.name, hardware, curve)),
    )
    return CLEAR


def joint_data(hardware: EndHardware, curve: TouchCurve) -> dict[str, Any]:
    """The curve as plain data; angles in degrees, null where nothing touches."""
    return {
        "joint": hardware.joint,
        **keyed(curve, _CURVE),
        "surfaces": [contact and plain(contact.surfaces) for contact in curve.contacts],
        "parts": [contact and list(hardware.names(contact)) for contact in curve.contacts],
        **keyed(curve, "mesh_chord_mm=chord searched_to_deg=limit"),
    }
