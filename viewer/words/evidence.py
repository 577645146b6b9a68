"""What a rig says of a joint's causes, each sign as a clause with its numbers."""

from collections.abc import Mapping
from typing import Final

from sim.seen.words import CapName
from sim.vehicle import Pose
from viewer.words.meeting import hits_words
from viewer.words.poses import travel_words, ways
from viewer.words.seen import CAP_CALLED
from viewer.words.sentence import Sentence
from viewer.words.units import (
    against,
    format_angle,
    format_length,
    format_missing,
    rpm,
    share_words,
    times_words,
)
from viewer.words.units import force as force_words


def _touches(joint: str, at: str, one: str, other: str, of_one: str, of_other: str) -> str:
    hits = hits_words((one, other), (of_one, of_other))
    return f"on this truck the {joint} joint binds from {at}: {hits}"


def _at(travel: float, roll: float, wrap: float) -> str:
    """A pose, with its angles in words alone: numbers of all three tell a customer nothing."""
    at = Pose(travel, roll, wrap)
    return ", ".join([travel_words(travel), *filter(None, [" and ".join(ways(at))])])


def _marks_there(times: float, bend: float, reached: bool) -> str:
    likely = f"{times_words(times)} as likely as by chance"
    if reached:
        return f"the marks sit where these yokes meet, {likely}"
    return (
        f"the marks sit where these yokes would meet past {format_angle(bend)} of bend ({likely}); "
        "the axle as typed never bends it so far"
    )


def _cocked(cap: CapName, tilt: float, times: float, life: float, both: bool, alone: bool) -> str:
    return (
        f"by what was measured cap {CAP_CALLED[cap]} sits {format_angle(tilt, 2)} crooked: its "
        f"corner carries {times_words(times)} as much, and it lasts {share_words(life)} as long; "
        f"so will the next joint in that {'yoke' if both else 'seat'}"
        f"{', while the other axis stays good' if alone else ''}"
    )


def _thrust(force: float, gets: float, most: float) -> str:
    return (
        f"stuck, this slip pushes the joint with {force_words(force)} at the hardest pull: the "
        f"front and rear of the trunnions get {_against(gets, most)}"
    )


def _corners(gets: float, most: float) -> str:
    return f"at the hardest pull the needles press their corners with {_against(gets, most)}"


def _against(gets: float, most: float) -> str:
    return f"{against(gets, most)} what hardened steel takes without a dent"


def _wraps(most: float, usual: float) -> str:
    much = "a lot" if most >= usual else "little"
    return f"the axle wraps up by {format_angle(most)}, which is {much}"


def _rolls(joint: str, bend: float, least: float) -> str:
    runs = f"the {joint} joint runs at {format_angle(bend)}"
    if bend < least:
        return f"{runs}, and under {format_angle(least)} the needles do not roll"
    return f"{runs}, enough for the needles to roll"


def _runs_at(joint: str, bend: float, limit: float, speed: float) -> str:
    runs = f"the {joint} joint runs at {format_angle(bend)}"
    usual = f"{format_angle(limit)} is the usual limit at the {rpm(speed)} it turns"
    return f"{runs} every day, and {usual}"


def _shakes(felt: float, top: float) -> str:
    if felt < top:
        return f"its bends shake the shaft from {rpm(felt)}, and it turns up to {rpm(top)}"
    return f"its bends do not shake the shaft at any speed up to its {rpm(top)}"


EVIDENCE: Final[Mapping[str, Sentence]] = {
    "at-pose": _at,
    "why-touches": _touches,
    "why-nearly": "the {joint} joint comes within {left:angle} of binding, at {at}",
    "why-clears": (
        "the {joint} joint binds nowhere in this truck's travel: {left:angle} left at its worst, "
        "{at}"
    ),
    "why-no-head": "the {joint} joint is a single one, with no centering ball",
    "why-head": "the head bends {most:angle} at {at}; its ball is good for {limit:angle}",
    "why-slip-closes": lambda left, at: _slip(left, at, "close", "bottoms"),
    "why-slip-opens": lambda left, at: _slip(left, at, "open", "runs out of spline"),
    "why-hits": "the {part} hits the {thing} at {at}",
    "why-hits-nothing": "the shaft hits nothing that the rig file names",
    "why-marks-there": _marks_there,
    "why-marks-elsewhere": lambda times: (
        "the marks are not where these yokes would meet; by chance they lie so "
        f"{times_words(times)} as often"
    ),
    "why-cocked": _cocked,
    "why-caps-straight": "by what was measured the caps sit straight, to {tilt:fine_angle}",
    "why-corner-pressure": _corners,
    "why-thrust": _thrust,
    "why-wraps": _wraps,
    "why-rolls": _rolls,
    "why-runs-at": _runs_at,
    "why-stands-still": "with the hubs unlocked this shaft stands still on the road",
    "why-whirls": (
        "the shaft runs at {share:percent} of the speed at which it whirls; {most:percent} is safe"
    ),
    "why-shakes": _shakes,
}
"""By code."""


def _slip(left: float, at: str, way: str, ends: str) -> str:
    if left > 0.0:
        return f"the slip never {ends}: {format_length(left)} left to {way} at its worst, {at}"
    return f"the slip {ends} on this truck, {format_missing(-left)} short at {at}"
