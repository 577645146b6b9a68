"""`bindpoint joint`: when one joint touches, over a whole turn."""

from pathlib import Path
from typing import Any

from geometry.contact.touch import TouchCurve
from sim.bench.fit import fitted_joint
from sim.bench.fitted import FittedJoint
from sim.hardware.head import EndHardware, end_hardware
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from viewer.bench.json import fitted_data
from viewer.commands.answer import answer
from viewer.console import note, progress
from viewer.encoder import keyed, plain
from viewer.endings import CLEAR
from viewer.rigs import named_rig
from viewer.words.touch_curve import curve_lines
from viewer.written.files import replace
from viewer.written.outputs import PICTURE, Outputs

_CURVE = (
    "spin_deg=spin touch_deg=touch certified_clear_deg=certified_clear touch_min_deg=touch_min "
    "spin_at_min_deg=first.spin"
)


def run(name: str, joint: Joint, as_json: bool, picture: Path | None, force: bool) -> int:
    """Print the touch curve of a joint, with its band where it was read; return the exit code."""
    outputs = Outputs((("--picture", picture, PICTURE),), force)
    outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        tell(f"{joint} joint: building the yokes", 0.1)
        found = fitted_joint(rig, joint, lambda share: tell(f"{joint} joint: fitting", share))
        hardware = end_hardware(rig, joint)
        tell(f"{joint} joint: finding where it touches", 0.9)
        curve = hardware.touch()
    answer(
        as_json,
        lambda: joint_data(hardware, curve, found),
        lambda: "\n".join(curve_lines(rig.name, hardware, curve, found)),
    )
    if picture is not None:
        from viewer.bench.curve_plot import curve_plot

        outputs.demand_room()
        nearer = typed_joint(rig, joint).typed.yokes[0]
        replace(picture, curve_plot(rig.name, joint, curve, found, nearer), "the picture")
        note(f"drew {picture}")
    return CLEAR


def joint_data(
    hardware: EndHardware, curve: TouchCurve, found: FittedJoint | None
) -> dict[str, Any]:
    """The curve as plain data; angles in degrees, null where nothing touches."""
    return {
        "joint": hardware.joint,
        **keyed(curve, _CURVE),
        "surfaces": [contact and plain(contact.surfaces) for contact in curve.contacts],
        "parts": [contact and list(hardware.names(contact)) for contact in curve.contacts],
        **keyed(curve, "mesh_chord_mm=chord searched_to_deg=limit"),
        **({} if found is None else fitted_data(found)),
    }
