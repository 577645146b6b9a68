"""`bindpoint joint`: when one joint touches, over a whole turn."""

from collections.abc import Iterator
from math import degrees, isfinite
from typing import Any

from geometry.contact.touch import TouchCurve
from sim.head.hardware import EndHardware, HeadHardware, end_hardware
from sim.vehicle import Joint
from viewer.console import progress, say, say_json
from viewer.encoder import keyed, plain
from viewer.endings import CLEAR
from viewer.rigs import named_rig
from viewer.words.meeting import meeting_words, surfaces_words
from viewer.words.verdicts import CAUTION


def run(name: str, joint: Joint, as_json: bool) -> int:
    """Print the touch curve of a joint; return the exit code."""
    rig = named_rig(name)
    with progress() as tell:
        tell(f"{joint} joint: building the yokes", 0.1)
        hardware = end_hardware(rig, joint)
        tell(f"{joint} joint: finding where it touches", 0.3)
        curve = hardware.touch()
    if as_json:
        say_json(joint_data(hardware, curve))
    else:
        say("\n".join(_lines(rig.name, hardware, curve)))
    return CLEAR


_CURVE = (
    "spin_deg=spin touch_deg=touch course_deg=course certified_clear_deg=certified_clear "
    "touch_min_deg=touch_min spin_at_min_deg=first.spin"
)


def joint_data(hardware: EndHardware, curve: TouchCurve) -> dict[str, Any]:
    """The curve as plain data; angles in degrees, null where nothing touches."""
    return {
        "joint": hardware.joint,
        **keyed(curve, _CURVE),
        "surfaces": [contact and plain(contact.surfaces) for contact in curve.contacts],
        "parts": [contact and list(hardware.names(contact)) for contact in curve.contacts],
        **keyed(curve, "mesh_chord_mm=chord searched_to_deg=limit"),
    }


def _cross(hardware: EndHardware) -> str:
    if isinstance(hardware, HeadHardware):
        return hardware.shape.name
    return f"cross {hardware.cross.name}"


def _stops(hardware: EndHardware) -> str:
    """What stops a head at neither of its crosses."""
    if isinstance(hardware, HeadHardware) and hardware.head_touch().limited_by == "outer yokes":
        return "The two outer yokes meet each other"
    return "Ball and socket run out of travel"


SHOWN = 24
"""Rows of the printed table: every 15 deg of a turn. The JSON has every spin."""

BAR = 40


def _lines(rig_name: str, hardware: EndHardware, curve: TouchCurve) -> Iterator[str]:
    yield f"{rig_name}: {hardware.joint} joint"
    yield f"{hardware.driving.name} and {hardware.driven.name}, {_cross(hardware)}"
    if isfinite(curve.touch_min) and curve.first is not None:
        yield (
            f"First touch at {degrees(curve.touch_min):.2f} deg, turned "
            f"{round(degrees(curve.first.spin)) % 360} deg: "
            f"{meeting_words(curve.first.surfaces, hardware.names(curve.first))}"
        )
    elif isfinite(curve.touch_min):
        yield f"{_stops(hardware)} at {degrees(curve.touch_min):.2f} deg"
    else:
        yield f"Nothing touches up to {degrees(curve.limit):.0f} deg"
    yield f"Certified clear at any turn up to {degrees(curve.certified_clear):.2f} deg"
    yield ""
    yield f"{'turn':>7}  {'touches at':>10}   0 {' ' * (BAR - 8)}{degrees(curve.limit):.0f} deg"
    step = max(1, len(curve.spin) // SHOWN)
    for i in range(0, len(curve.spin), step):
        bend, contact = curve.touch[i], curve.contacts[i]
        bar = round(BAR * min(bend, curve.limit) / curve.limit) if isfinite(bend) else BAR
        reads = f"{degrees(bend):.2f} deg" if isfinite(bend) else "clear"
        what = "" if contact is None else surfaces_words(contact.surfaces)
        if contact is None and isfinite(bend):
            what = "ball / socket"
        yield f"{degrees(curve.spin[i]):>3.0f} deg  {reads:>10}   {'#' * bar:<{BAR}}  {what}"
    yield ""
    yield f"Turn: 0 when the bores of the {hardware.driving.name} lie in the plane of the bend."
    yield f"Meshes are true to {curve.chord:.2f} mm; the metal lies inside them."
    yield CAUTION
