"""What was seen on the truck against what is computed, in words."""

from collections.abc import Iterator, Mapping
from math import degrees, isfinite
from typing import Final

from sim.truck.contradictions import Contradiction
from sim.truck.explained import Together, Wrong
from sim.truck.held import HeldAgainst, HeldItem
from sim.truck.numbers import Doubtful
from sim.truck.observed import Observed
from viewer.words.poses import pose_words, travel_words
from viewer.words.reading_names import reading_name
from viewer.words.units import format_angle, format_fraction, small_length

MOST: Final = 4
"""Numbers that are told; the rest is in the JSON."""

SMALL: Final = 1.0
"""Deviations less than which nobody calls a number wrong in a combination."""


def seen_words(seen: Observed) -> str:
    """What was seen: "8 in droop, turned by hand: the pinion joint touches"."""
    what, entry = seen.what, seen.entry
    if what == "turned":
        who = "a joint" if seen.joint is None else f"the {seen.joint} joint"
        does = "touches" if entry.turned == "touches" else "is free"
        if seen.joint is None and entry.turned == "free":
            who, does = "every joint", "is free"
        return f"{_place(seen)}, turned by hand: {who} {does}"
    said = getattr(entry, what).typed
    if seen.at is None:
        way = "open" if what == "paint_ran" else "closed"
        return f"Paint after a drive: the slip ran {said} {way} at the least"
    way = "open" if what == "slip_opened" else "closed"
    return f"{_place(seen)}: the slip stands {said} {way} of ride height"


def _place(seen: Observed) -> str:
    words = "" if seen.at is None else pose_words(seen.at)
    return f"{words[:1].upper()}{words[1:]}"


def held_words(item: HeldItem) -> str:
    """What is computed for it, and whether they agree."""
    if not item.reached:
        return "Computed: the shaft cannot be there by this rig, so nothing is held against it."
    end = "Agrees." if item.agrees else "Disagrees."
    past = " It lies past the travel that the file gives." if item.beyond else ""
    return f"Computed: {_computed(item)}. {end}{past}"


def _computed(item: HeldItem) -> str:
    off = _off(item)
    if item.observed.what == "turned":
        way = "past" if item.computed > 0.0 else "short of"
        return f"{format_angle(abs(item.computed))} of bend {way} touching{off}"
    open_ = item.observed.what in ("slip_opened", "paint_ran")
    way = "open" if open_ == (item.computed >= 0.0) else "closed"
    most = " at the most" if item.observed.at is None else ""
    return f"{small_length(abs(item.computed))} {way}{most}{off}"


def _off(item: HeldItem) -> str:
    both = (item.off**2 + item.seen_off**2) ** 0.5
    if not both > 0.0:
        return ""
    size = format_angle(both) if item.observed.unit == "rad" else small_length(both)
    return f", give or take {size}"


def contradiction_words(each: Contradiction, seen: Mapping[int, Observed]) -> str:
    """Two things seen of which one is wrong."""
    one, other = seen[each.one], seen[each.other]
    if one.what == "turned":
        touches, free = (one, other) if one.sense == "at least" else (other, one)
        return (
            f"{each.one} and {each.other} contradict each other, whatever the rig is: the joint is "
            f"bent farther at {_lower(free)}, where it is free, than at {_lower(touches)}, where "
            "it touches. One of them was seen wrong, or something else caught, such as a dry "
            "bearing. Both are left out below."
        )
    return (
        f"{each.one} and {each.other} contradict each other: one slip, one pose, two places. Both "
        "are left out below."
    )


def _lower(seen: Observed) -> str:
    return "" if seen.at is None else pose_words(seen.at)


CREDIBLE: Final = 4.0
"""Deviations: what is off by no more may be, if seldom."""

FARTHER: Final = 1.5
"""How many times as far off as the nearest a suspect may have to be, to be named."""


def alone_lines(held: HeldAgainst) -> Iterator[str]:
    """What each number would have to be by itself, the least unlikely first."""
    could = [each for each in held.alone if each.explains]
    nearest = min((abs(each.deviations) for each in could), default=0.0)
    far = max(CREDIBLE, FARTHER * nearest)
    told = [each for each in could if abs(each.deviations) <= far][:MOST]
    for each in told:
        yield wrong_words(each)
    left = len(could) - len(told)
    if left:
        others = "One other number" if left == 1 else f"{left} other numbers"
        yield f"{others} could explain it too, but less likely."
    if not told:
        yield (
            "No single number explains it, however wrong: more than one is off, or the file has "
            "another part or another truck."
        )


def wrong_words(each: Wrong) -> str:
    """What one number would have to be: "The pinion's slope would have to be 2.5 deg up ..."."""
    name = number_name(each.of)
    name += "," if "," in name else ""
    would, is_ = value_words(each.of, each.would_be), value_words(each.of, each.of.value)
    return (
        f"{name[:1].upper()}{name[1:]} would have to be {would} instead of {is_}: "
        f"{times_off(each)}."
    )


def times_off(each: Wrong) -> str:
    """How far off that is, in what is usual: "five times what a digital level is off"."""
    times = abs(each.off) / each.of.off
    tool = each.of.source.tool if each.of.source is not None else ""
    usual = f"what {_article(tool)} is off" if tool else "what it may be off"
    if times < 1.0:
        return f"no more than {usual}"
    shown = _TIMES.get(round(times), f"{times:.0f}")
    return f"as much as {usual}" if round(times) == 1 else f"{shown} times {usual}"


_TIMES: Final = dict(
    zip(
        range(1, 11),
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"],
        strict=True,
    )
)


def _article(tool: str) -> str:
    if tool.startswith(("a ", "an ", "the ", "my ")):
        return tool
    return f"{'an' if tool[:1].lower() in 'aeio' else 'a'} {tool}"


_OWN: Final = {
    "at": "the height of number {}",
    "roll": "the roll of number {}",
    "wrap": "the wrap of number {}",
    "seen": "the reading of number {}",
}


def number_name(each: Doubtful) -> str:
    """What a number is called, of the rig or of what was seen."""
    if each.own is not None:
        number = each.key.partition("[")[2].partition("]")[0]
        return _OWN[each.own[1]].format(number)
    name = reading_name(each.key)
    for end, axis in _AXES.items():
        if each.key.endswith(end):
            return f"{name}, {axis}"
    return name


_AXES: Final = {"[1]": "its place forward", "[2]": "its place to the left", "[3]": "its height"}
"""Numbers of a point."""

_OPPOSITE: Final = {
    "up": "down",
    "down": "up",
    "left": "right",
    "right": "left",
    "lower": "higher",
    "higher": "lower",
}


def value_words(each: Doubtful, value: float) -> str:
    """A value of a number, with the word for its direction where its key says one."""
    if each.own is not None and each.own[1] == "at":
        return travel_words(value)
    word = each.key.rpartition("_")[2]
    size = _size(each.unit, value)
    if word not in _OPPOSITE or each.key.startswith("travel."):
        return size
    return f"{_size(each.unit, abs(value))} {word if value >= 0.0 else _OPPOSITE[word]}"


def _size(unit: str, value: float) -> str:
    if not isfinite(value):
        return "nothing"
    if unit == "rad":
        return f"{degrees(value):.1f} deg"
    return format_fraction(value)


def together_words(found: Together) -> str:
    """The least unlikely combination."""
    parts = [each for each in found.parts if abs(each.deviations) >= SMALL] or [*found.parts[:1]]
    told = "; ".join(
        f"{number_name(each.of)}: {value_words(each.of, each.would_be)} instead of "
        f"{value_words(each.of, each.of.value)}"
        for each in parts[: 2 * MOST]
    )
    return f"Or several at once, each as little off as will do: {told}. {chance_words(found)}"


def chance_words(found: Together) -> str:
    """How often that happens by the errors that are typed or usual."""
    if found.chance >= 0.01:
        return f"{max(1, round(100.0 * found.chance))} trucks in 100 are as far off."
    return "Fewer than 1 truck in 100 is as far off: something was read or typed wrong."
