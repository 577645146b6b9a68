"""What can be said of a finding, by the names that its sentences have for it."""

from collections.abc import Callable, Mapping
from math import floor, radians
from re import split
from typing import Any, Final

from sim.findings import Finding
from sim.search.what_it_takes import Takes, WhatItTakes
from sim.vehicle import Pose
from viewer.words.assumed import joint_words, stand_in_words
from viewer.words.meeting import meeting_words
from viewer.words.poses import LEVEL, pose_words, travel_words, ways
from viewer.words.units import (
    format_angle,
    format_fine,
    format_fine_under,
    format_length,
    format_spoken,
    left_degrees,
    small_length,
)

LONGEST = 42
"""Letters of a line that stays one in the window's list."""


class Facts(dict[str, Any]):
    """What is known of one finding: looked up in `FACTS`, or else in its details."""

    def __init__(self, finding: Finding) -> None:
        super().__init__()
        self._finding = finding

    def __missing__(self, name: str) -> Any:
        finding = self._finding
        return FACTS[name](finding) if name in FACTS else finding.detail[name]


def _pose(finding: Finding) -> Pose:
    """The pose that a finding is of; ride height where it names none."""
    return finding.at or Pose()


def _start(finding: Finding) -> Pose:
    """The first pose at which it touches."""
    return finding.detail["first"] or _pose(finding)


def _takes(does: str, first: Callable[[Finding], Pose | None]) -> Callable[[Finding], str]:
    """What the axle has to do for it, as a sentence with a space before it; may be empty.

    first : the first pose at which it does it, where that was told already.
    """

    def words(finding: Finding) -> str:
        found: WhatItTakes | None = finding.detail.get("takes")
        if found is None or found.takes == "ride height":
            return ""
        never = _NEVER.get(found.takes)
        if never is not None or found.level is None:
            return f" {never} {does}."
        enough = f" Both wheels {_BOTH[found.takes]} does it"
        told = first(finding)
        if told is not None and abs(told.roll) <= LEVEL and abs(told.wrap) <= LEVEL:
            return f"{enough}."
        there = travel_words(found.level.travel)
        return f"{enough}: level, with no wrap, at {there}."

    return words


_BOTH: Final[Mapping[Takes, str]] = {"both hanging": "hanging", "both up": "up"}

_NEVER: Final[Mapping[Takes, str]] = {
    "crossed up": "It takes crossing up: with the axle level it never",
    "wrap": "It takes axle wrap: with no wrap it never",
    "crossed up or wrap": "It takes crossing up or axle wrap: level, with no wrap, it never",
    "crossed up and wrap": "It takes crossing up and axle wrap together: with only one it never",
}


def _since(finding: Finding) -> str:
    """Where it begins, at the end of a short line: " from 5 in droop, nose down"; may be empty."""
    first: Pose | None = finding.detail.get("first")
    if first is None:
        return ""
    if not (first.travel or first.roll or first.wrap):
        return " already at ride height"
    return f" from {travel_words(first.travel)}{_besides(first)}"


def _besides(pose: Pose) -> str:
    """How the axle stands besides its height, at the end of a short line."""
    return "".join(f", {way}" for way in ways(pose))


def _turned_with(finding: Finding) -> str:
    detail = finding.detail
    words = stand_in_words(detail.get("generic"), detail.get("fitted", False))
    return f", with {words.removesuffix(',')}" if words else ""


_MOVES: Final = {"closes": "closing", "opens": "opening"}


def _asked_at(finding: Finding) -> str:
    return " and ".join(
        f"{format_length(mm)} of {_MOVES[way]} at {pose_words(at)}"
        for way, (mm, at) in finding.detail["asked"].items()
    )


def _asked_short(finding: Finding) -> str:
    asked = finding.detail["asked"].items()
    return ", ".join(f"{small_length(mm)} {_MOVES[way]}" for way, (mm, _) in asked)


def _generic_slip(finding: Finding) -> str:
    """What of the catalogue has the stroke that the travel asks."""
    detail = finding.detail
    spare = f"has that, with {format_length(detail['wanted_mm'])} left at each end"
    if detail["generic"] is None:
        return f"No generic slip {spare}"
    closes, opens = map(format_length, detail["set"])
    return (
        f"A generic {detail['generic']} {spare}, set at ride height with {closes} to close and "
        f"{opens} to open"
    )


def _part_seen(finding: Finding) -> str:
    rubber = "That part is rubber: it gives before steel meets. "
    unseen = f"Not checked: {', '.join(finding.detail['unseen'])}."
    return f"{rubber if finding.detail['yields'] else ''}{unseen}"


def _part_short(finding: Finding) -> str:
    """The part to begin a short line with, by its short name where the line would be two."""
    part = finding.detail["part"]
    how = {"touches": "hits", "close": "close to", "clear": "clear of"}[finding.verdict]
    if len(f"{part} {how} the {finding.subject}") > LONGEST:
        # The whole sentence names the part: shaft for "shaft's tube", boot for "boot on the slip".
        part = split(r"'s | \w+ the slip", finding.detail["called"])[0]
    return f"{part[:1].upper()}{part[1:]}"


def _caster_short(finding: Finding) -> str:
    change = finding.margin.value
    what = f"{'costs' if change < 0.0 else 'adds'} {abs(change):.1f} deg of caster"
    return what if change else "caster stays as it is"


def caster_words(raised: float, caster: float) -> str:
    """What raising the pinion of a front axle (rad) does to its caster (rad)."""
    if raised == 0.0:
        return "the pinion stays where it is, and so does the caster"
    turned, left = format_angle(abs(raised)), format_spoken(caster - raised, "positive", "negative")
    return (
        f"{'raising' if raised > 0.0 else 'lowering'} the pinion {turned} "
        f"{'costs' if raised > 0.0 else 'adds'} {turned} of caster and leaves {left}, unless the "
        "knuckles are cut and turned too"
    )


FACTS: Final[Mapping[str, Callable[[Finding], Any]]] = {
    "subject": lambda f: f.subject,
    "worst": lambda f: f.worst.value,
    "limit": lambda f: f.limit.value,
    "margin": lambda f: f.margin.value,
    "short": lambda f: -f.margin.value,
    "left": lambda f: max(0.0, f.margin.value),
    "at": _pose,
    "ways": lambda f: _besides(_pose(f)),
    # of joints
    "joint_called": lambda f: joint_words(
        f.subject, f.detail.get("generic"), f.detail.get("fitted", False)
    ),
    "joint_name": lambda f: f"{f.subject.capitalize()} joint",
    "start": _start,
    "start_ways": lambda f: _besides(_start(f)),
    "takes_binding": _takes("binds", lambda f: f.detail["first"]),
    "meeting": lambda f: meeting_words(f.detail["surfaces"], f.detail["bodies"]),
    "left_deg": lambda f: left_degrees(radians(f.margin.value), radians(f.detail["reserve_deg"])),
    "gap_room": lambda f: format_fine(f.detail["gap_mm"]),
    "worst_room": lambda f: format_fine_under(f.worst.value, f.limit.value),
    "limit_room": lambda f: format_length(f.limit.value),
    "worst_inches": lambda f: format_fine_under(f.worst.value, f.limit.value).partition(" (")[0],
    "turned_with": _turned_with,
    "turn_left": lambda f: left_degrees(radians(f.margin.value)),
    # of the slip
    "takes_bottoming": _takes("bottoms out", lambda _: None),
    "takes_running_out": _takes("runs out", lambda _: None),
    "since": _since,
    "unmeasured": lambda f: " or ".join(way.removesuffix("s") for way in f.detail["asked"]),
    "asked_at": _asked_at,
    "asked_short": _asked_short,
    "generic_slip": _generic_slip,
    # of what is near the shaft
    "takes_hitting": _takes("hits", lambda f: f.at),
    "part_seen": _part_seen,
    "part_short": _part_short,
    # There at least, so rounded down.
    "sure_inches": lambda f: f"{floor(f.detail['certified_mm'] / 0.254) / 100.0:.2f}",
    "sure_mm": lambda f: f"{floor(10.0 * f.detail['certified_mm']) / 10.0:.1f}",
    # of a front axle
    "caster": lambda f: caster_words(f.detail["raised"], f.detail["caster"]),
    "caster_short": _caster_short,
}
