"""Findings about what lives near the shaft, the reach of the axle, and a front axle."""

from collections.abc import Iterator
from math import floor
from typing import Literal, assert_never

from sim.caster import CasterChange
from sim.findings import Finding
from viewer.words.told import Told, height, row, small, takes, whole_pose
from viewer.words.units import (
    format_angle,
    format_fraction,
    format_length,
    format_length_under,
    format_spoken,
)
from viewer.words.verbs import agreeing

LONGEST = 42
"""Letters of a line that stays one in the window's list."""

Code = Literal[
    "surroundings", "surroundings-unfinished", "out-of-reach", "beyond-readings", "caster", "hubs"
]


def on_axle(code: Code, finding: Finding) -> Told:
    """What such a finding says."""
    match code:
        case "surroundings":
            return Told(_near(finding), *_near_short(finding))
        case "surroundings-unfinished":
            return Told(_unfinished(finding), *_unfinished_short(finding))
        case "out-of-reach":
            return Told(_out_of_reach(finding), *_out_of_reach_short(finding))
        case "beyond-readings":
            return Told(_beyond(finding), *_beyond_short(finding))
        case "caster":
            return Told(_caster(finding), *_caster_short(finding))
        case "hubs":
            return Told(_hubs(finding), *_hubs_short(finding))
        case _:
            assert_never(code)


def _near(finding: Finding) -> str:
    return " ".join((_gap_to_thing(finding), *_about_part(finding)))


def _gap_to_thing(finding: Finding) -> str:
    called, thing = finding.detail["called"], finding.subject
    part = f"The {called}"
    if finding.verdict == "touches":
        touch = agreeing(called, "touches", "touch")
        asks = takes(finding, "touches", finding.at)
        return f"{part} {touch} the {thing} at {whole_pose(finding)}.{asks}"
    if finding.verdict == "close":
        return (
            f"{part} {agreeing(called, 'comes', 'come')} close to the {thing}: "
            f"{format_length_under(finding.worst.value, finding.limit.value)} left at "
            f"{whole_pose(finding)}; {format_length(finding.limit.value)} is wanted."
        )
    return (
        f"{part} {agreeing(called, 'stays', 'stay')} clear of the {thing}: "
        f"{format_length(finding.worst.value)} left at {whole_pose(finding)}."
    )


def _about_part(finding: Finding) -> Iterator[str]:
    if finding.detail["yields"]:
        yield "That part is rubber: it gives way before steel meets."
    yield f"Not looked at: {', '.join(finding.detail['unseen'])}."


def _near_short(finding: Finding) -> tuple[str, str]:
    part = finding.detail["part"]
    how = {"touches": "touches", "close": "close to", "clear": "clear of"}[finding.verdict]
    if len(f"{part} {how} the {finding.subject}") > LONGEST:
        part = finding.detail["called"].partition("'s ")[0]  # the whole sentence names the part
    part = part[:1].upper() + part[1:]
    where = f"at {height(finding)}"
    left = "" if finding.verdict == "touches" else f"{small(finding.worst.value)} left "
    return f"{part} {how} the {finding.subject}", row(finding, f"{left}{where}")


def _unfinished(finding: Finding) -> str:
    least, most = finding.detail["certified_mm"], finding.worst.value
    called = finding.detail["called"]
    words = (
        f"The search for the least gap to the {finding.subject} was cut short: it is "
        f"{_length_down(least)} or more, and {format_length(most)} at {whole_pose(finding)}, where "
        f"the {called} {agreeing(called, 'is', 'are')} nearest so far. A simpler mesh is searched "
        "to the end."
    )
    return " ".join((words, *_about_part(finding)))


def _unfinished_short(finding: Finding) -> tuple[str, str]:
    least = floor(finding.detail["certified_mm"] / 0.254) / 100.0
    most = small(finding.worst.value)
    return f"Gap to the {finding.subject} not settled", f"{least:.2f} in or more, {most} found"


def _length_down(mm: float) -> str:
    """A length that is there at least: rounded down."""
    return f"{floor(mm / 0.254) / 100.0:.2f} in ({floor(10.0 * mm) / 10.0:.1f} mm)"


def _out_of_reach(finding: Finding) -> str:
    return (
        f"The suspension and the shaft cannot reach {whole_pose(finding)} as described; what is "
        "said here holds for the poses that can be reached. Check travel, links and slip."
    )


def _out_of_reach_short(finding: Finding) -> tuple[str, str]:
    return f"Cannot reach {height(finding)}", row(finding, "as described")


def _beyond(finding: Finding) -> str:
    way = "bump" if finding.at is not None and finding.at.travel > 0.0 else "droop"
    return (
        f"The axle was read to {format_length(finding.limit.value)} of {way} but travels "
        f"{format_length(finding.worst.value)}; beyond the readings it is taken to go straight on. "
        "Read it there too."
    )


def _beyond_short(finding: Finding) -> tuple[str, str]:
    read, travels = format_fraction(finding.limit.value), format_fraction(finding.worst.value)
    way = "bump" if finding.at is not None and finding.at.travel > 0.0 else "droop"
    return "Travels beyond what was read", f"{read} of {way} read, travels {travels}"


def _caster(finding: Finding) -> str:
    change = caster_words(finding.detail["change"])
    return (
        f"The pinion aimed along the shaft at ride height: {change}. The other way round, each "
        "degree of caster gained by turning the housing lowers the pinion by a degree."
    )


def _caster_short(finding: Finding) -> tuple[str, str]:
    change = finding.margin.value
    what = f"{'takes' if change < 0.0 else 'adds'} {abs(change):.1f} deg of caster"
    return "Pinion aimed along the shaft", what if change else "the caster stays as it is"


def caster_words(told: CasterChange) -> str:
    """What turning a front axle's housing does to its caster."""
    if told.raised == 0.0:
        return "the pinion stays where it is, and so does the caster"
    moved = "raising" if told.raised > 0.0 else "lowering"
    does = "takes" if told.change < 0.0 else "adds"
    line = (
        f"{moved} the pinion of a front axle by {format_angle(abs(told.raised))} {does} "
        f"{format_angle(abs(told.change))} of caster"
    )
    if told.after is not None:
        line += f": {format_spoken(told.after, 'positive', 'negative')} is left"
    return f"{line}, unless the knuckles are turned on the tube as well"


def _hubs(finding: Finding) -> str:
    joint = f"one joint at {finding.worst.value:.1f} deg"
    good = f"{finding.limit.value:.0f} deg or less runs well (common practice, no source)"
    if finding.detail["hubs"] == "unlock":
        return (
            "With the hubs unlocked this shaft stands still on the road; how unevenly it turns, "
            f"like {joint} at ride height, matters only while they are locked."
        )
    return (
        "With full-time hubs this shaft turns at road speed, so its angles can be felt: at ride "
        f"height it is as uneven as {joint}; {good}."
    )


def _hubs_short(finding: Finding) -> tuple[str, str]:
    unlock = finding.detail["hubs"] == "unlock"
    when = "with locked hubs only" if unlock else "at road speed"
    return f"The shaft turns {when}", f"as uneven as one joint at {finding.worst.value:.1f} deg"
