"""Findings about the slip: how it is used up, that nobody measured it, that none fits."""

from math import isfinite
from typing import Literal, assert_never

from sim.findings import Finding
from viewer.words.poses import pose_words
from viewer.words.told import Told, height, row, small, takes, whole_pose
from viewer.words.units import (
    format_fraction,
    format_fraction_up,
    format_length,
    format_length_under,
    format_missing,
)
from viewer.words.verdicts import NOT_MEASURED

Code = Literal[
    "slip-closes", "slip-opens", "slip-comes-apart", "slip-not-measured", "no-room-for-slip"
]


def on_slip(code: Code, finding: Finding) -> Told:
    """What such a finding says."""
    match code:
        case "slip-closes":
            return Told(_closes(finding), *_used_up(finding, "bottoms", "to close"))
        case "slip-opens":
            return Told(_opens(finding), *_used_up(finding, "runs out", "to open"))
        case "slip-comes-apart":
            return Told(_apart(finding), *_apart_short(finding))
        case "slip-not-measured":
            return Told(_not_measured(finding), *_not_measured_short(finding))
        case "no-room-for-slip":
            return Told(_no_room(finding), *_no_room_short(finding))
        case _:
            assert_never(code)


def _closes(finding: Finding) -> str:
    has, needs = format_length(finding.limit.value), format_length(finding.worst.value)
    if finding.verdict == "touches":
        return (
            f"The slip bottoms: it has {has} to close from ride height and needs {needs} at "
            f"{whole_pose(finding)}. It needs {format_missing(-finding.margin.value)} more."
            f"{takes(finding, 'bottoms')}"
        )
    return _slip_room(finding, "before it bottoms", "closes")


def _opens(finding: Finding) -> str:
    has, needs = format_length(finding.limit.value), format_length(finding.worst.value)
    if finding.verdict == "touches":
        return (
            f"The slip runs out: it may open {has} from ride height with enough spline engaged "
            f"and is pulled {needs} at {whole_pose(finding)}. It needs "
            f"{format_missing(-finding.margin.value)} more.{takes(finding, 'runs out')}"
        )
    return _slip_room(finding, "before it runs short of spline", "opens")


def _slip_room(finding: Finding, until: str, moves: str) -> str:
    left = format_length(max(0.0, finding.margin.value))
    close = finding.verdict == "close"
    if close:
        left = format_length_under(finding.margin.value, finding.detail["reserve_mm"])
    lead = "The slip has only" if close else "The slip keeps"
    wanted = f"; {format_length(finding.detail['reserve_mm'])} is wanted" if close else ""
    return (
        f"{lead} {left} left {until}: it {moves} {format_length(finding.worst.value)} at "
        f"{whole_pose(finding)}{wanted}."
    )


def _used_up(finding: Finding, stops: str, way: str) -> tuple[str, str]:
    left = finding.margin.value
    where = height(finding)
    if finding.verdict == "touches":
        return f"Slip {stops} at {where}", row(finding, f"short {format_fraction_up(-left)}")
    only = "only " if finding.verdict == "close" else ""
    return f"Slip has {only}{small(left)} {way}", row(finding, f"at {where}")


def _apart(finding: Finding) -> str:
    return (
        f"The slip comes apart at {whole_pose(finding)}: it parts when opened "
        f"{format_length(finding.limit.value)} and is pulled {format_length(finding.worst.value)}."
    )


def _apart_short(finding: Finding) -> tuple[str, str]:
    past = f"{format_fraction_up(-finding.margin.value)} too far open"
    return f"Slip comes apart at {height(finding)}", row(finding, past)


def _not_measured(finding: Finding) -> str:
    detail = finding.detail
    moves = {"closes": "closing", "opens": "opening"}
    asks = [
        f"{format_length(mm)} of {moves[way]} at {pose_words(at)}"
        for way, (mm, at) in detail["asked"].items()
    ]
    ways = [way.removesuffix("s") for way in detail["asked"]]
    wanted = format_length(detail["wanted_mm"])
    generic, own = detail["generic"], "the truck's own has to be measured"
    if generic is None:
        has = f"No generic slip has that with {wanted} to spare at either end"
    else:
        closes, opens = (format_length(mm) for mm in detail["set"])
        has = (
            f"A generic {generic} has that with {wanted} to spare at either end, set at "
            f"ride height with {closes} to close and {opens} to open"
        )
    return (
        f"Nobody measured how far the slip can {' or '.join(ways)}, so it is not judged. "
        f"From ride height the travel asks {' and '.join(asks)}. {has}; {own}."
    )


def _not_measured_short(finding: Finding) -> tuple[str, str]:
    ways = {"closes": "closing", "opens": "opening"}
    asked = [f"{small(mm)} {ways[way]}" for way, (mm, _) in finding.detail["asked"].items()]
    return "Slip not measured", f"asks {', '.join(asked)}"


def _no_room(finding: Finding) -> str:
    room, need = format_length(finding.limit.value), format_length(finding.worst.value)
    there = f"the yokes leave {room} from weld to weld at ride height, and "
    if finding.verdict == "touches":
        what = "the slip" if finding.detail["measured"] else "the shortest slip that does"
        short = format_missing(-finding.margin.value)
        return f"No slip fits between the yokes: {there}{what} takes {need}. It is {short} short."
    return (
        f"The slip as described hardly fits: {there}a generic one with its stroke takes {need}. "
        "A shorter one would do; measure yours pushed home."
    )


def _no_room_short(finding: Finding) -> tuple[str, str]:
    room, need = format_fraction(finding.limit.value), format_fraction_up(finding.worst.value)
    lead = "No slip fits" if finding.verdict == "touches" else "Slip hardly fits"
    return f"{lead} between the yokes", f"{room} from weld to weld, takes {need}"


def slip_left_words(mm: float) -> str:
    """What is left of a slip one way, or how much it is short; `inf` where nobody measured it."""
    if not isfinite(mm):
        return NOT_MEASURED
    return f"{format_length(mm)} left" if mm >= 0.0 else f"{format_missing(-mm)} short"
