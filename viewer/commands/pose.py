"""`bindpoint pose`: one pose of the axle and one turn of the shaft."""

from math import degrees
from pathlib import Path
from typing import Any

from geometry.errors import BindpointError
from sim.bars.doubts import doubts_of
from sim.bars.give_or_take import PoseOff
from sim.pose import PoseCheck, check_pose
from sim.travel.oversteps import ANGLES, Overstep
from viewer.bars.json import band_data
from viewer.commands.answer import answer, drawn, picture_of
from viewer.console import note, progress
from viewer.encoder import keyed, plain
from viewer.endings import CLEAR, TOUCHES
from viewer.pose.off import posed_off
from viewer.pose.posing import TYPED_AXES, directions_taken, parse_pose
from viewer.rigs import named_rig
from viewer.words.posed import pose_lines
from viewer.words.reach import overstep_words
from viewer.written.outputs import PICTURE, Outputs


def run(
    name: str,
    typed: tuple[str, str, str],
    spin: str,
    as_json: bool,
    export: Path | None,
    picture: Path | None,
    force: bool,
) -> int:
    """Print one pose; return the exit code: 1 when metal meets or the slip is out of stroke.

    typed : travel, roll and wrap.
    """
    at, turn = parse_pose(*typed), TYPED_AXES["spin"].read(spin)
    for line in directions_taken(*typed):
        note(f"bindpoint: {line}")
    # The files of an export are looked at when it is written.
    outputs = Outputs((("--picture", picture, PICTURE),), force)
    outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        tell("building the yokes", 0.2)
        result = check_pose(rig, at, turn)
    off = _off(result)
    answer(
        as_json,
        lambda: posed_data(result, rig.name, off),
        lambda: "\n".join(pose_lines(rig.name, result, off)),
    )
    if export is not None:
        from viewer.pose.export import export_pose

        export_pose(result, rig, export, force)
        note(f"wrote the parts to {export}")
    outputs.demand_room()
    drawn(picture, picture_of("pose.picture.pose_picture", result, rig, off))
    return TOUCHES if result.stopped else CLEAR


_JOINT = (
    "bend_deg=bend spin_deg=spin gap_mm=gap.distance overlaps=gap.overlaps surfaces=gap.surfaces "
    "gap_over_turn_mm=least.distance verdict fitted=hardware.fitted"
)
_SLIP = (
    "length_mm=state.line.length slip_mm=state.line.slip closes_left_mm=closes_left "
    "opens_left_mm=opens_left"
)


def _off(result: PoseCheck) -> PoseOff | None:
    """How far off it may be; None where nothing may be, or nobody can tell."""
    try:
        with progress() as tell:
            doubts = doubts_of(result.rig, result.joints, progress=tell)
    except BindpointError:
        return None
    return posed_off(result, doubts)


def posed_data(result: PoseCheck, rig_name: str, off: PoseOff | None = None) -> dict[str, Any]:
    """The pose as plain data, and how far off it may be."""
    return {
        "rig": rig_name,
        **keyed(result, "at spin_deg=spin"),
        "in_reach": not result.beyond,
        "out_of_reach": [_overstep(each) for each in result.beyond],
        "verdict": result.verdict,
        "joints": {joint: keyed(found, _JOINT) for joint, found in result.joints.items()},
        **keyed(result, _SLIP),
        "surroundings": plain(result.surroundings),
        "how_sure": None if off is None else _sure(off),
    }


def _sure(off: PoseOff) -> dict[str, Any]:
    joints = {
        joint: {
            "bend_off_deg": degrees(bend),
            "left_band": band_data(*off.lefts[joint]),
        }
        for joint, bend in off.bends.items()
    }
    told = keyed(off, "likely chance length_off_mm=length slip_off_mm=slip")
    return {**told, "joints": joints}


def _overstep(each: Overstep) -> dict[str, Any]:
    """A limit of the axle that the pose lies beyond."""
    angle = each.way in ANGLES
    asked, limit = (degrees(way) if angle else way for way in (each.asked, each.limit))
    unit = "deg" if angle else "mm"
    return {
        "way": each.way,
        "asked": {"value": asked, "unit": unit},
        "limit": {"value": limit, "unit": unit},
        "says": overstep_words(each),
    }
