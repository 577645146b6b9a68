"""`bindpoint joint --relief`: how much bend grinding gains at one joint, and what it costs."""

from typing import TYPE_CHECKING

from geometry.errors import BindpointError
from geometry.relief import Relief, grindable, relief
from sim.head.hardware import end_hardware
from sim.parts.hardware import JointHardware
from sim.units import parse_angle
from sim.vehicle import RIDE, Joint
from viewer.commands.wanted import Wanted, drawn
from viewer.console import note, progress, say, say_json
from viewer.endings import CLEAR, TOUCHES
from viewer.relief.json import relief_data
from viewer.relief.text import relief_lines
from viewer.rigs import named_rig
from viewer.scene.parts import PosedPart
from viewer.written.export import export_pose

if TYPE_CHECKING:
    from viewer.scene.page import Sheet


class NoReliefError(BindpointError, ValueError):
    """A joint whose relief cannot be planned."""


def run(name: str, joint: Joint, bend_wanted: str, as_json: bool, wanted: Wanted) -> int:
    """Print what grinding gains; return 0 when some way reaches the bend wanted, else 1."""
    bend, export, picture = parse_angle(bend_wanted), wanted.export, wanted.picture
    wanted.outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        tell(f"{joint} joint: building the yokes", 0.1)
        hardware = end_hardware(rig, joint)
        if not isinstance(hardware, JointHardware):
            raise NoReliefError(
                f"{rig.name}: the {joint} joint is a double-Cardan head; relief is worked out for "
                "single joints only"
            )
        tell(f"{joint} joint: finding where it touches", 0.2)
        curve = hardware.touch()
        tell(f"{joint} joint: grinding", 0.4)
        driving, driven = grindable(hardware.driving), grindable(hardware.driven)
        found = relief(driving, driven, hardware.cross.contact, bend, curve=curve)
    if as_json:
        say_json(relief_data(hardware, found))
    else:
        say("\n".join(relief_lines(rig.name, hardware, found)))
    if found.already:
        if export is not None or picture is not None:
            note("wrote no parts and no picture, since nothing is ground")
        return CLEAR
    if export is not None:
        _export(hardware, found, wanted, rig.name)
        note(f"wrote the ground parts to {export}")
    wanted.outputs.demand_room()
    drawn(picture, lambda: _picture(rig.name, hardware, found))
    return CLEAR if found.enough else TOUCHES


def _picture(rig_name: str, hardware: JointHardware, found: Relief) -> "Sheet":
    from viewer.relief.picture import relief_picture

    return relief_picture(rig_name, hardware, found)


def _export(hardware: JointHardware, found: Relief, wanted: Wanted, rig_name: str) -> None:
    """Write the ground yokes and their chips, each in its yoke frame."""
    if wanted.export is None:
        return
    parts = []
    for plan in found.plans:
        for body, cut in plan.cuts.items():
            name = f"{plan.way} {hardware.yoke_name(body)}"
            parts.append(PosedPart(f"{name} ground", "grey steel", cut.body))
            parts.append(PosedPart(f"{name} chips", "grey steel", cut.chips))
    export_pose(wanted.export, parts, RIDE, 0.0, rig_name, force=wanted.force)
