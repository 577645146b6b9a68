"""A finding in two short lines, and where binding starts."""

from collections.abc import Callable, Iterator
from math import floor, radians

from sim.check import Check
from sim.findings import Code, Finding
from sim.vehicle import Pose
from viewer.session.pose_now import left_degrees
from viewer.words.findings import LEVEL, travel_words
from viewer.words.units import format_fraction, format_fraction_up, format_under

LONGEST = 42
"""Letters of a line that stays one in the window's list."""

Lines = tuple[str, str]
"""What is found, and by how much or where."""


def finding_lines(finding: Finding) -> Lines:
    """What is found and where; then by how much, and how the axle stands there."""
    return _LINES[finding.code](finding)


def contact_lines(result: Check) -> str:
    """Where binding starts, over all of the travel and then level; "" where it never does."""
    for way in (result.down, result.up):
        if way.first is not None:
            at = way.first.at
            lines = [
                f"Binding starts at {travel_words(at.travel)}:",
                _row(f"{way.first.joint} joint", *_way(at)) + ".",
            ]
            level = [row for row in way.by_wrap if row.roll == 0.0 and row.wrap == 0.0]
            if level and any(_way(at)):
                alone = level[0].contact
                there = "nowhere" if alone is None else f"at {travel_words(alone.at.travel)}"
                lines.append(f"Level, without wrap: {there}.")
            return "\n".join(lines)
    return ""


def _joint_bend(finding: Finding) -> Lines:
    joint = f"{finding.subject.capitalize()} joint"
    left = radians(finding.margin.value)
    shown = left_degrees(left, radians(finding.detail["reserve_deg"]))
    if finding.verdict == "touches":
        start: Pose = finding.detail["first"] or finding.at or Pose()
        first = f"{joint} touches at {travel_words(start.travel)}"
        return first, _row(f"short {shown} deg", *_way(start))
    at = finding.at or Pose()
    where = travel_words(at.travel)
    if finding.verdict == "close":
        return f"{joint} close at {where}", _row(f"{shown} deg left", *_way(at))
    return f"{joint} has {shown} deg left", _row(f"at {where}", *_way(at))


def _joint_gap(finding: Finding) -> Lines:
    at = finding.at or Pose()
    gap = format_under(finding.worst.value / 25.4, finding.limit.value / 25.4, 3)
    lead = f"Small gap in the {finding.subject} joint"
    return lead, _row(f"{gap} in at {travel_words(at.travel)}", *_way(at))


def _slip_closes(finding: Finding) -> Lines:
    return _slip(finding, "bottoms", "to close")


def _slip_opens(finding: Finding) -> Lines:
    return _slip(finding, "runs out", "to open")


def _slip(finding: Finding, stops: str, way: str) -> Lines:
    at, left = finding.at or Pose(), finding.margin.value
    where = travel_words(at.travel)
    if finding.verdict == "touches":
        return f"Slip {stops} at {where}", _row(f"short {format_fraction_up(-left)}", *_way(at))
    only = "only " if finding.verdict == "close" else ""
    return f"Slip has {only}{_small(left)} {way}", _row(f"at {where}", *_way(at))


def _slip_apart(finding: Finding) -> Lines:
    at = finding.at or Pose()
    past = f"{format_fraction_up(-finding.margin.value)} too far open"
    return f"Slip comes apart at {travel_words(at.travel)}", _row(past, *_way(at))


def _slip_not_measured(finding: Finding) -> Lines:
    ways = {"closes": "closing", "opens": "opening"}
    asked = [f"{_small(mm)} {ways[way]}" for way, (mm, _) in finding.detail["asked"].items()]
    return "Slip not measured", f"asks {_row(*asked)}"


def _no_room(finding: Finding) -> Lines:
    room, need = format_fraction(finding.limit.value), format_fraction_up(finding.worst.value)
    lead = "No slip fits" if finding.verdict == "touches" else "Slip hardly fits"
    return f"{lead} between the yokes", f"{room} from weld to weld, takes {need}"


def _turns(finding: Finding) -> Lines:
    joint = finding.detail["joint"]
    if finding.verdict == "touches":
        spin = finding.detail["spin_deg"]
        return "Cannot be turned at ride height", f"{joint} joint touches at {spin:.0f} deg of turn"
    left = left_degrees(radians(finding.margin.value))
    return "Turns freely at ride height", f"{left} deg left at the {joint} joint"


def _out_of_reach(finding: Finding) -> Lines:
    at = finding.at or Pose()
    return f"Cannot reach {travel_words(at.travel)}", _row("as described", *_way(at))


def _beyond(finding: Finding) -> Lines:
    read, travels = format_fraction(finding.limit.value), format_fraction(finding.worst.value)
    way = "bump" if finding.at is not None and finding.at.travel > 0.0 else "droop"
    return "Travels beyond what was read", f"{read} of {way} read, travels {travels}"


def _surroundings(finding: Finding) -> Lines:
    at, part = finding.at or Pose(), finding.detail["part"]
    how = {"touches": "touches", "close": "close to", "clear": "clear of"}[finding.verdict]
    if len(f"{part} {how} the {finding.subject}") > LONGEST:
        part = finding.detail["called"].partition("'s ")[0]  # the whole sentence names the part
    part = part[:1].upper() + part[1:]
    where = f"at {travel_words(at.travel)}"
    left = "" if finding.verdict == "touches" else f"{_small(finding.worst.value)} left "
    return f"{part} {how} the {finding.subject}", _row(f"{left}{where}", *_way(at))


def _surroundings_unfinished(finding: Finding) -> Lines:
    least = floor(finding.detail["certified_mm"] / 0.254) / 100.0
    most = _small(finding.worst.value)
    return f"Gap to the {finding.subject} not settled", f"{least:.2f} in or more, {most} found"


def _caster(finding: Finding) -> Lines:
    change = finding.margin.value
    what = f"{'takes' if change < 0.0 else 'adds'} {abs(change):.1f} deg of caster"
    return "Pinion aimed along the shaft", what if change else "the caster stays as it is"


def _hubs(finding: Finding) -> Lines:
    unlock = finding.detail["hubs"] == "unlock"
    when = "with locked hubs only" if unlock else "at road speed"
    return f"The shaft turns {when}", f"as uneven as one joint at {finding.worst.value:.1f} deg"


_LINES: dict[Code, Callable[[Finding], Lines]] = {
    "joint-bend": _joint_bend,
    "joint-gap": _joint_gap,
    "slip-closes": _slip_closes,
    "slip-opens": _slip_opens,
    "slip-comes-apart": _slip_apart,
    "slip-not-measured": _slip_not_measured,
    "no-room-for-slip": _no_room,
    "turns-at-ride": _turns,
    "surroundings": _surroundings,
    "surroundings-unfinished": _surroundings_unfinished,
    "out-of-reach": _out_of_reach,
    "beyond-readings": _beyond,
    "caster": _caster,
    "hubs": _hubs,
}


def _row(*parts: str) -> str:
    return ", ".join(parts)


def _way(at: Pose) -> Iterator[str]:
    """How the axle stands besides its height, without numbers."""
    if abs(at.roll) > LEVEL:
        yield "crossed up"
    if abs(at.wrap) > LEVEL:
        yield f"nose {'up' if at.wrap > 0.0 else 'down'}"


def _small(mm: float) -> str:
    """A room as a tape shows it, or in decimals where a tape shows nothing."""
    shown = format_fraction(mm)
    return f"{mm / 25.4:.3f} in" if shown == "0 in" else shown
