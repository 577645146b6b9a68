"""`bindpoint joint --relief`: how much bend grinding gains at one joint, and what it costs."""

from pathlib import Path

from geometry.errors import BindpointError
from geometry.relief import Relief, grindable, relief
from sim.hardware.head import end_hardware
from sim.hardware.joint import JointHardware
from sim.units import parse_angle
from sim.vehicle import RIDE, Joint
from viewer.commands.answer import answer, drawn, picture_of
from viewer.console import note, progress
from viewer.endings import CLEAR, TOUCHES
from viewer.relief.json import relief_data
from viewer.relief.text import relief_lines
from viewer.rigs import named_rig
from viewer.scene.parts import PosedPart
from viewer.written.export import export_pose
from viewer.written.outputs import PICTURE, Outputs


class NoReliefError(BindpointError, ValueError):
    """A joint whose relief cannot be planned."""


def run(
    name: str,
    joint: Joint,
    bend_wanted: str,
    as_json: bool,
    export: Path | None,
    picture: Path | None,
    force: bool,
) -> int:
    """Print what grinding gains; return 0 when some way reaches the bend wanted, else 1."""
    bend = parse_angle(bend_wanted)
    # The files of an export are looked at when it is written.
    outputs = Outputs((("--picture", picture, PICTURE),), force)
    outputs.demand_room()
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
    answer(
        as_json,
        lambda: relief_data(hardware, found),
        lambda: "\n".join(relief_lines(rig.name, hardware, found)),
    )
    if found.already:
        if export is not None or picture is not None:
            note("wrote no parts and no picture, since nothing is ground")
        return CLEAR
    if export is not None:
        export_pose(export, _parts(hardware, found), RIDE, 0.0, rig.name, force=force)
        note(f"wrote the ground parts to {export}")
    outputs.demand_room()
    drawn(picture, picture_of("relief.picture.relief_picture", rig.name, hardware, found))
    return CLEAR if found.enough else TOUCHES


def _parts(hardware: JointHardware, found: Relief) -> list[PosedPart]:
    """The ground yokes and their chips, each in its yoke frame."""
    return [
        PosedPart(
            f"{plan.way} {hardware.yoke_name(body)} {what}",
            "grey steel",
            mesh,
            fitted=hardware.fitted,
        )
        for plan in found.plans
        for body, cut in plan.cuts.items()
        for what, mesh in (("ground", cut.body), ("chips", cut.chips))
    ]
