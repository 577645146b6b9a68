"""`bindpoint joint --relief`: how much bend grinding gains at one joint, and what it costs."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, isfinite
from pathlib import Path
from textwrap import wrap
from typing import Any

import numpy as np

from geometry.errors import BindpointError
from geometry.relief import Cut, Plan, Relief, grindable, relief
from sim.head.hardware import end_hardware
from sim.parts.hardware import JointHardware
from sim.units import format_fine, parse_angle
from sim.vehicle import RIDE, Joint
from viewer.check.json import number
from viewer.command_line import BAD_INPUT, CLEAR, TOUCHES
from viewer.console import complain, note, progress, say, say_json
from viewer.rigs import named_rig
from viewer.scene.parts import PosedPart
from viewer.words.findings import CAUTION
from viewer.written.export import export_pose
from viewer.written.outputs import PICTURE, Outputs

GRIND_CAUTION = (
    "Ground metal is weaker metal: this says nothing of strength. Fit the joint first, radius what "
    "is ground, leave no thin bridge over a cap, and look for cracks. When in doubt use yokes made "
    "for the angle."
)


class NoReliefError(BindpointError, ValueError):
    """A joint whose relief cannot be planned."""


@dataclass(frozen=True)
class Wanted:
    """Files asked for besides the answer; `force` lets them replace anything."""

    export: Path | None = None
    picture: Path | None = None
    force: bool = False

    @property
    def outputs(self) -> Outputs:
        """The files with what each is; those of an export are looked at when it is written."""
        return Outputs((("--picture", self.picture, PICTURE),), self.force)


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
        say("\n".join(_lines(rig.name, hardware, found)))
    if found.already:
        if export is not None or picture is not None:
            note("wrote no parts and no picture, since nothing is ground")
        return CLEAR
    if export is not None:
        _export(hardware, found, wanted, rig.name)
        note(f"wrote the ground parts to {export}")
    if picture is not None:
        try:
            wanted.outputs.demand_room()
            from viewer.relief.picture import draw_relief

            draw_relief(rig.name, hardware, found, picture, headline, f"{GRIND_CAUTION} {CAUTION}")
        except BindpointError as error:
            complain(error)
            return BAD_INPUT
        note(f"drew {picture}")
    return CLEAR if found.enough else TOUCHES


def relief_data(hardware: JointHardware, found: Relief) -> dict[str, Any]:
    """What grinding gains as plain data."""
    return {
        "joint": hardware.joint,
        "wanted_deg": degrees(found.wanted),
        "clearance_mm": found.clearance,
        "least_wall_mm": found.least_wall,
        "before_deg": degrees(found.before),
        "enough": found.enough,
        "nothing_to_grind": nothing_to_grind(hardware, found) if found.already else None,
        "plans": [] if found.already else [_plan_data(hardware, plan) for plan in found.plans],
    }


def nothing_to_grind(hardware: JointHardware, found: Relief) -> str:
    """Say in a sentence that the joint is clear at the bend wanted, and how much room it has."""
    gap = hardware.smallest_gap(found.wanted).distance
    short = ""
    if gap < found.clearance:
        short = f", less than the {format_fine(found.clearance)} that grinding would leave"
    return (
        f"Nothing to grind at the {hardware.joint} joint: it is clear to "
        f"{degrees(found.before):.1f} deg as it is, and {degrees(found.wanted):.1f} deg is wanted; "
        f"{format_fine(gap)} of room is left there{short}."
    )


def _plan_data(hardware: JointHardware, plan: Plan) -> dict[str, Any]:
    stop = plan.stop
    return {
        "way": plan.way,
        "reached_deg": degrees(plan.reached),
        "gained_deg": degrees(plan.gained),
        "gap_mm": number(plan.gap),
        "cuts": {hardware.yoke_name(body): _cut_data(cut) for body, cut in plan.cuts.items()},
        "stop": None
        if stop is None
        else {
            "reason": stop.reason,
            "part": hardware.yoke_name(stop.body),
            "surface": stop.surface,
            "bend_deg": degrees(stop.bend),
        },
    }


def _cut_data(cut: Cut) -> dict[str, Any]:
    return {
        "volume_mm3": cut.volume,
        "depth_mm": cut.depth,
        "deepest_mm": np.asarray(cut.deepest).tolist(),
        "wall_mm": number(cut.wall),
        "limit_mm": number(cut.limit) if isfinite(cut.wall) else None,
        "thinnest_mm": np.asarray(cut.thinnest).tolist() if isfinite(cut.wall) else None,
        "surfaces": list(cut.surfaces),
    }


def _lines(rig_name: str, hardware: JointHardware, found: Relief) -> Iterator[str]:
    if found.already:
        yield f"{rig_name}: {nothing_to_grind(hardware, found)}"
        yield from wrap(CAUTION, 96)
        return
    yield f"{rig_name}: relief of the {hardware.joint} joint"
    yield (
        f"Clear to {degrees(found.before):.1f} deg as it is; {degrees(found.wanted):.1f} deg is "
        f"wanted with {format_fine(found.clearance)} of room, no wall under "
        f"{format_fine(found.least_wall)}"
    )
    for plan in found.plans:
        yield ""
        yield from wrap(headline(hardware, plan), 96, subsequent_indent="    ")
        for body, cut in plan.cuts.items():
            wall = wall_words(cut, found.least_wall)
            text = (
                f"  - {hardware.yoke_name(body)}: grind the {' and '.join(cut.surfaces)}, "
                f"{format_fine(cut.depth)} at the deepest, "
                f"{cut.volume / 1000.0:.2f} cm3{wall}"
            )
            yield from wrap(text, 96, subsequent_indent="    ")
    yield ""
    yield from wrap(GRIND_CAUTION, 96)
    yield from wrap(CAUTION, 96)


def wall_words(cut: Cut, least: float) -> str:
    """The thinnest wall beside what has to stay there."""
    if not isfinite(cut.wall):
        return "; no wall is near"
    told = f", wall left {format_fine(cut.wall)} where {format_fine(cut.limit)} has to stay"
    if cut.limit < least:
        told += (
            f": under {format_fine(least)}, since the yoke was hardly thicker there to begin with, "
            "as at a bevel; four fifths of what was there stays"
        )
    return told


def headline(hardware: JointHardware, plan: Plan) -> str:
    """Say in a sentence who is ground, what it reaches, and why it stops."""
    who = "both yokes by half"
    if plan.way != "shared":
        who = f"the {hardware.yoke_name(plan.way)} alone"
    reached = f"{degrees(plan.reached):.1f} deg ({degrees(plan.gained):+.1f})"
    if plan.stop is None:
        return f"Grinding {who} reaches {reached}."
    return f"Grinding {who} reaches {reached} and stops: {_why(hardware, plan)}."


def _why(hardware: JointHardware, plan: Plan) -> str:
    stop = plan.stop
    if stop is None:
        return ""
    part = hardware.yoke_name(stop.body)
    return {
        "wall": f"the wall of the {part} would get too thin",
        "hardware": f"the {stop.surface} of the {part} touches, which is never ground; swap it",
        "seat": f"the {stop.surface} of the {part} touches, which is never ground",
        "cross": "the cross itself touches",
        "uncertain": "more could not be confirmed",
    }[stop.reason]


def _export(hardware: JointHardware, found: Relief, wanted: Wanted, rig_name: str) -> None:
    """Write the ground yokes and their chips, each in its yoke frame."""
    if wanted.export is None:
        return
    parts = []
    for plan in found.plans:
        for body, cut in plan.cuts.items():
            name = f"{plan.way} {hardware.yoke_name(body)}"
            parts.append(PosedPart(f"{name} ground", "grey steel", cut.body, np.eye(4)))
            parts.append(PosedPart(f"{name} chips", "grey steel", cut.chips, np.eye(4)))
    export_pose(wanted.export, parts, RIDE, 0.0, rig_name, force=wanted.force)
