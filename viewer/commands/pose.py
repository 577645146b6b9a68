"""`bindpoint pose`: one pose of the axle and one turn of the shaft."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, inf
from typing import TYPE_CHECKING, Any

from geometry.contact.gap import Gap
from sim.pose import PoseCheck, check_pose
from sim.rig import Rig
from sim.travel.oversteps import ANGLES, Overstep
from viewer.commands.wanted import Wanted, drawn
from viewer.console import note, progress, say, say_json
from viewer.encoder import keyed, plain
from viewer.endings import CLEAR, TOUCHES
from viewer.pose.posing import directions_taken, parse_pose, parse_spin
from viewer.rigs import named_rig
from viewer.words.meeting import surfaces_words
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words, overstep_words
from viewer.words.units import format_length
from viewer.words.verdicts import CAUTION, slip_left_words, verdict_word

if TYPE_CHECKING:
    from viewer.scene.page import Sheet


@dataclass(frozen=True)
class Asked:
    """A pose as typed."""

    travel: str
    roll: str
    wrap: str
    spin: str


def run(name: str, asked: Asked, as_json: bool, wanted: Wanted) -> int:
    """Print one pose; return the exit code: 1 when metal meets or the slip is out of stroke."""
    at, spin = parse_pose(asked.travel, asked.roll, asked.wrap), parse_spin(asked.spin)
    for line in directions_taken(asked.travel, asked.roll, asked.wrap):
        note(f"bindpoint: {line}")
    wanted.outputs.demand_room()
    rig = named_rig(name)
    with progress() as tell:
        tell("building the yokes", 0.2)
        result = check_pose(rig, at, spin)
        _ = [(each.gap, each.least, each.verdict) for each in result.joints.values()]
    if as_json:
        say_json(posed_data(result, rig.name))
    else:
        say("\n".join(_lines(rig.name, result)))
    if wanted.export is not None:
        from viewer.pose.export import export_pose

        export_pose(result, rig, wanted.export, wanted.force)
        note(f"wrote the parts to {wanted.export}")
    wanted.outputs.demand_room()
    drawn(wanted.picture, lambda: _picture(result, rig))
    return TOUCHES if result.stopped else CLEAR


def _picture(result: PoseCheck, rig: Rig) -> "Sheet":
    from viewer.pose.picture import pose_picture

    return pose_picture(result, rig)


_JOINT = (
    "bend_deg=bend spin_deg=spin gap_mm=gap.distance overlaps=gap.overlaps surfaces=gap.surfaces "
    "gap_over_turn_mm=least.distance verdict"
)
_SLIP = (
    "length_mm=state.line.length slip_mm=state.line.slip closes_left_mm=closes_left "
    "opens_left_mm=opens_left"
)


def posed_data(result: PoseCheck, rig_name: str) -> dict[str, Any]:
    """The pose as plain data."""
    return {
        "rig": rig_name,
        **keyed(result, "at spin_deg=spin"),
        "in_reach": not result.beyond,
        "out_of_reach": [_overstep(each) for each in result.beyond],
        "verdict": result.verdict,
        "joints": {joint: keyed(found, _JOINT) for joint, found in result.joints.items()},
        **keyed(result, _SLIP),
        "surroundings": plain(result.surroundings),
    }


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


def _lines(rig_name: str, result: PoseCheck) -> Iterator[str]:
    state = result.state.line
    yield f"{rig_name}: {pose_words(result.at)}, output yoke turned {degrees(result.spin):.0f} deg"
    if result.beyond:
        yield f"out of reach: {out_of_reach_words(result.beyond)}"
    for joint, found in result.joints.items():
        yield (
            f"{joint:<7} joint bent {degrees(found.bend):.1f} deg, turned "
            f"{round(degrees(found.spin)) % 360} deg: {_room(found.gap)}; over a whole turn "
            f"{_room(found.least)}, {verdict_word(found.verdict).lower()}"
        )
    yield f"length  {format_length(float(state.length))}"
    moved = float(state.slip)
    word = "open" if moved >= 0.0 else "closed"
    left = ", ".join(
        f"{slip_left_words(mm)} {'how far it can' if mm == inf else 'to'} {way}"
        for mm, way in ((result.closes_left, "close"), (result.opens_left, "open"))
    )
    yield f"slip    {format_length(abs(moved))} {word} from ride height; {left}"
    for near in result.surroundings:
        said = "touched by" if near.touches else f"{format_length(near.sure_mm)} left, from"
        word = verdict_word(near.verdict(result.rig.wanted.clearance.mm)).lower()
        yield (
            f"near    {near.name}: {said} the {near.called}, {word}; not looked at: "
            f"{', '.join(near.unseen)}"
        )
    yield CAUTION


def _room(gap: Gap) -> str:
    if gap.overlaps:
        return f"metal meets ({surfaces_words(gap.surfaces)})"
    return f"{gap.distance / 25.4:.3f} in ({gap.distance:.1f} mm) of room"
