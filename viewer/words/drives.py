"""What a drive to a finding is called, and what it says where it stops and where it ends."""

from sim.findings import Finding
from sim.pose import PoseCheck
from sim.vehicle import Pose
from viewer.words.finding_facts import Facts
from viewer.words.findings import finding_lines, says
from viewer.words.meeting import meets_words
from viewer.words.poses import LEVEL, pose_words, travel_words, ways
from viewer.words.sentence import filled, small
from viewer.words.units import exact, format_angle, format_fine, format_missing
from viewer.words.verdicts import slip_left_words


def drive_name(finding: Finding) -> str:
    """What a drive to a finding is called: "to the bind: pinion joint touches at 3 in droop"."""
    lead = "to the bind" if finding.verdict == "touches" else "to the tightest"
    return f"{lead}: {small(finding_lines(finding)[0])}"


def stopped_words(finding: Finding, at: Pose) -> str:
    """What a drive stopped at, in a pose; for what does not touch, what is left there."""
    if finding.verdict != "touches" or finding.code not in _STOPS:
        return says(finding)
    facts = Facts(finding)
    if "surfaces" in finding.detail:
        facts["met"] = meets_words(finding.detail["surfaces"], finding.detail["bodies"])
    facts["there"], facts["here"] = f"at {_stands(at)}", _stands(at)
    return f"Stopped: {filled(_STOPS[finding.code][0], facts)}."


def ended_words(finding: Finding, at: Pose) -> str:
    """What holds where a drive ends that was pushed on past its stop."""
    missing = -finding.margin.value
    if finding.code == "joint-bend":
        return f"The worst, at {_stands(at)}: {finding.subject} joint {missing:.1f} deg too far."
    if finding.subject == "slip":
        far = "too far out" if finding.code == "slip-comes-apart" else "short"
        return f"The worst, at {_stands(at)}: the slip is {format_missing(missing)} {far}."
    return f"Pushed on to the end of the travel this way, {_stands(at)}."


def gap_line(now: PoseCheck, about: Finding | None = None) -> str:
    """The room there is at this very turn, in a pose, at what a drive is about; "" out of reach.

    about : the finding that it is made for; without one, the joint that decides the verdict.
    """
    if not now.reached:
        return ""
    code = about.code if about is not None else ""
    if code == "slip-closes":
        return f"Slip to close: {slip_left_words(now.closes_left)}."
    if code in ("slip-opens", "slip-comes-apart"):
        return f"Slip to open: {slip_left_words(now.opens_left)}."
    for near in now.surroundings:
        if about is not None and near.name == about.subject:
            said = "touches" if near.touches else f"{format_fine(near.gap_mm)} from"
            return f"{near.called[:1].upper()}{near.called[1:]}: {said} the {near.name}."
    named = None if about is None else about.detail.get("joint", about.subject)
    joint = next((joint for joint in now.joints if joint == named), now.deciding)
    if joint is None:
        return ""
    gap = now.joints[joint].gap
    shown = format_fine if gap.distance >= _FINE else exact
    room = "metal in metal" if gap.overlaps else f"gap {shown(gap.distance)}"
    return f"{joint.capitalize()} joint, at this turn of the shaft: {room}."


_FINE = 0.1
"""mm. What is nearer is told by the hundredth."""


def left_out_words(finding: Finding, at: Pose, low: Pose, high: Pose) -> str:
    """What a drive leaves out that stops the shaft, and what happens there; "" for what it cannot.

    at : where it does. low, high : the least and most that the drive has of each.
    """
    if finding.code not in _STOPS:
        return ""
    ways = {
        travel_words(at.travel): low.travel - _SAME <= at.travel <= high.travel + _SAME,
        "crossed up": abs(at.roll) <= LEVEL or low.roll - LEVEL <= at.roll <= high.roll + LEVEL,
        _wrapped(at): abs(at.wrap) <= LEVEL or low.wrap - LEVEL <= at.wrap <= high.wrap + LEVEL,
    }
    out = [way for way, has in ways.items() if not has]
    what = ", ".join(out) if out else f"{pose_words(at)}, all at once"
    there = filled(_STOPS[finding.code][1], Facts(finding))
    return f"This drive leaves out: {what}. {there[:1].upper()}{there[1:]} there."


_SAME = 1.0
"""mm. A height that a drive misses by less is one it has."""


def _wrapped(at: Pose) -> str:
    return f"{format_angle(abs(at.wrap))} nose {'up' if at.wrap > 0.0 else 'down'}"


_STOPS = {
    "joint-bend": ("the {met} {there}", "the {subject} joint binds"),
    "turns-at-ride": ("the {joint} joint binds as the shaft is turned {there}", "it binds"),
    "slip-closes": ("the slip bottoms {there}", "the slip bottoms"),
    "slip-opens": ("the slip runs short of spline {there}", "the slip runs out"),
    "slip-comes-apart": ("the slip comes apart {there}", "the slip comes apart"),
    "surroundings": (
        "the {called} {called:agree hits|hit} the {subject} {there}",
        "the {called} {called:agree hits|hit} the {subject}",
    ),
    "out-of-reach": (
        "suspension and shaft reach no farther than {here}",
        "suspension and shaft do not get",
    ),
}
"""What a drive stops at, and what happens where one does not get to."""


def _stands(at: Pose) -> str:
    return ", ".join([travel_words(at.travel), *ways(at)])
