"""Findings about a joint: its bend, its gap, its turn at ride height."""

from math import inf, radians
from typing import Literal, assert_never

from geometry.yoke import YOKES
from sim.findings import Finding
from sim.vehicle import Pose
from viewer.words.assumed import generic_words, joint_words
from viewer.words.poses import pose_words, travel_words, ways
from viewer.words.told import Told, height, row, takes, whole_pose
from viewer.words.units import format_under, left_degrees

Code = Literal["joint-bend", "joint-gap", "turns-at-ride"]


def on_joint(code: Code, finding: Finding) -> Told:
    """What such a finding says."""
    match code:
        case "joint-bend":
            return Told(_bend(finding), *_bend_short(finding))
        case "joint-gap":
            return Told(_gap(finding), *_gap_short(finding))
        case "turns-at-ride":
            return Told(_turns(finding), *_turns_short(finding))
        case _:
            assert_never(code)


def _bend(finding: Finding) -> str:
    detail = finding.detail
    joint = joint_words(finding.subject, detail.get("generic"))
    worst = f"{finding.worst.value:.1f} deg at {whole_pose(finding)}"
    if finding.verdict == "touches":
        first: Pose | None = detail["first"]
        start = pose_words(first if first is not None else finding.at or Pose())
        return (
            f"{joint} touches at {start}: {_meeting(finding)}. It is clear to "
            f"{finding.limit.value:.1f} deg and bends to {worst}; "
            f"it needs {-finding.margin.value:.1f} deg more.{takes(finding, 'touches', first)}"
        )
    if finding.verdict == "close":
        left = format_under(finding.margin.value, detail["reserve_deg"], 1)
        return (
            f"{joint} comes within {left} deg of touching "
            f"({detail['reserve_deg']:.1f} deg wanted), with {_room(detail['gap_mm'])} of room: it "
            f"bends to {worst} and is clear to {finding.limit.value:.1f} deg. "
            f"Nearest: {_meeting(finding)}."
        )
    return (
        f"{joint} has {finding.margin.value:.1f} deg to spare: it bends to {worst} and is clear "
        f"to {finding.limit.value:.1f} deg."
    )


def _bend_short(finding: Finding) -> tuple[str, str]:
    joint = f"{finding.subject.capitalize()} joint"
    left = radians(finding.margin.value)
    shown = left_degrees(left, radians(finding.detail["reserve_deg"]))
    if finding.verdict == "touches":
        start: Pose = finding.detail["first"] or finding.at or Pose()
        first = f"{joint} touches at {travel_words(start.travel)}"
        return first, ", ".join([f"short {shown} deg", *ways(start)])
    where = height(finding)
    if finding.verdict == "close":
        return f"{joint} close at {where}", row(finding, f"{shown} deg left")
    return f"{joint} has {shown} deg left", row(finding, f"at {where}")


def _gap(finding: Finding) -> str:
    return (
        f"{joint_words(finding.subject, finding.detail.get('generic'))} has only "
        f"{_room(finding.worst.value, under=finding.limit.value)} of room at "
        f"{whole_pose(finding)}: {_meeting(finding)}. "
        f"{_room(finding.limit.value, exact=1)} is wanted."
    )


def _gap_short(finding: Finding) -> tuple[str, str]:
    gap = format_under(finding.worst.value / 25.4, finding.limit.value / 25.4, 3)
    lead = f"Small gap in the {finding.subject} joint"
    return lead, row(finding, f"{gap} in at {height(finding)}")


def _room(mm: float, under: float = inf, exact: int = 0) -> str:
    """A small gap, too small for a tape: thousandths of an inch and mm, `exact` more decimals.

    It reads as less than `under`.
    """
    inches = format_under(mm / 25.4, under / 25.4, 3 + exact)
    return f"{inches} in ({format_under(mm, under, 1 + exact)} mm)"


def _turns(finding: Finding) -> str:
    joint = finding.detail["joint"]
    words = generic_words(finding.detail.get("generic"))
    led = f", with {words}," if words else ""
    if finding.verdict == "touches":
        return (
            f"The shaft cannot be turned all the way round at ride height{led.rstrip(',')}: the "
            f"{joint} joint touches at {finding.detail['spin_deg']:.0f} deg of its turn."
        )
    return (
        f"At ride height the shaft turns freely all the way round; the tightest spot, at the "
        f"{joint} joint{led or ','} has {finding.margin.value:.1f} deg left."
    )


def _turns_short(finding: Finding) -> tuple[str, str]:
    joint = finding.detail["joint"]
    if finding.verdict == "touches":
        spin = finding.detail["spin_deg"]
        return "Cannot be turned at ride height", f"{joint} joint touches at {spin:.0f} deg of turn"
    left = left_degrees(radians(finding.margin.value))
    return "Turns freely at ride height", f"{left} deg left at the {joint} joint"


def _meeting(finding: Finding) -> str:
    """What runs into what, the moving surface first."""
    return meeting_words(finding.detail["surfaces"], finding.detail["bodies"])


def meeting_words(surfaces: tuple[str, str], bodies: tuple[str, str]) -> str:
    """Two surfaces and the bodies they are of, the moving surface first."""
    (one, a), (other, b) = _moving_first(surfaces, bodies)
    return f"{one} of the {a} against the {other} of the {b}"


def surfaces_words(surfaces: tuple[str, str]) -> str:
    """The two surfaces alone, in the same order: "bolt / throat"."""
    return " / ".join(surface for surface, _ in _moving_first(surfaces, surfaces))


def _moving_first(
    surfaces: tuple[str, str], bodies: tuple[str, str]
) -> tuple[tuple[str, str], tuple[str, str]]:
    one, other = zip(surfaces, bodies, strict=True)
    turned = other[0] in _MOVING and one[0] not in _MOVING
    return (other, one) if turned else (one, other)


_MOVING = frozenset({"grease fitting"}).union(*(kind.proud for kind in YOKES.values()))
"""Surfaces that are said to run into others, rather than the other way round."""
