"""What moved between two visits of a truck, in words."""

from collections.abc import Iterator, Mapping
from typing import Final

from sim.rig.visits import State, Visit
from sim.visits.looks import LooksLike
from sim.visits.moved import Moved, Reading
from sim.visits.visits import AgainstRig, Between
from viewer.words.sentence import Sentence
from viewer.words.units import format_angle, format_fraction, small_length

VISITS: Final[Mapping[str, Sentence]] = {
    "visit-to-come": "{when} is still to come",
    "visited-twice": (
        "visits {first} and {second} are of the same day and state ({state}, {when}); the later "
        "one in the file counts as the later"
    ),
    "other-tool": (
        "{state}: read with {was} then and with {now} now; two tools may differ by more than "
        "either is off"
    ),
}
"""What is odd about visits."""

_NAMES: Final[Mapping[Reading, str]] = {
    "frame_to_axle": "frame to axle",
    "length": "joint center to joint center",
    "shaft_down": "the shaft's slope",
    "pinion_up": "the pinion's slope",
    "output_down": "the output's slope",
    "slip_shows": "how much of the slip shows",
}
_WAYS: Final[Mapping[Reading, tuple[str, str]]] = {
    "shaft_down": ("down", "up"),
    "pinion_up": ("up", "down"),
    "output_down": ("down", "up"),
}

STATES: Final[Mapping[State, str]] = {
    "ride": "at ride height",
    "bump": "on its bump stops",
    "droop": "hanging",
    "crossed up": "crossed up",
    "loaded": "loaded",
}

_LOOKS: Final = {
    "tilted": (
        "all three slopes moved alike, by {size}: the floor or the load, rather than a part; read "
        "them again on one floor with one load"
    ),
    "springs-settled": "the springs have settled{by}",
    "springs-raised": "it stands higher by {size}: other springs, other tires, or less load",
    "stops-lower": "it comes {size} nearer at bump: worn or missing bump stops",
    "hangs-lower": "it hangs {size} lower: longer shocks or straps, or a strap that stretched",
    "hangs-higher": "it hangs {size} higher: shorter shocks or straps, or springs that bind",
    "pinion-turned": (
        "the pinion turned by {size} at the same height: worn bushings, a perch that moved, or a "
        "spring that stays wrapped"
    ),
    "mount-sagged": "the output moved by {size}: a mount that sagged, or a crossmember that moved",
    "length-alone": (
        "the length alone moved, by {size}: taped wrong on one day, or between other places"
    ),
}


def between_title(each: Between, visits: tuple[Visit, ...]) -> str:
    """Which two visits: "At ride height, 2026-04-11 to 2026-09-30 (172 days)"."""
    state = STATES[each.state]
    was, now = visits[each.was - 1], visits[each.now - 1]
    days = f" ({each.days} day{'' if each.days == 1 else 's'})" if each.days else ""
    return f"{state[:1].upper()}{state[1:]}, {was.when} to {now.when}{days}"


def move_lines(moves: tuple[Moved, ...]) -> Iterator[str]:
    """Every number that was read twice: those that moved first."""
    order = {"moved": 0, "perhaps": 1, "stayed": 2}
    for each in sorted(moves, key=lambda each: order[each.move]):
        was, now = _value(each, each.was), _value(each, each.now)
        yield f"{_NAMES[each.reading]}: {was}, then {now}: {_says(each)}"


def _value(each: Moved, value: float) -> str:
    if each.unit == "mm":
        return format_fraction(value)
    positive, negative = _WAYS[each.reading]
    return f"{format_angle(abs(value))} {negative if value < 0.0 else positive}"


def _says(each: Moved) -> str:
    sure = f"{min(99.9, 100.0 * each.sure):.3g} %"
    if each.move == "moved":
        return f"moved by {size_words(each.unit, each.by)}, {sure} sure"
    if each.move == "perhaps":
        return "perhaps moved; among so many readings one is often so far off"
    return f"no more than both readings may be off ({size_words(each.unit, each.off)})"


def size_words(unit: str, value: float) -> str:
    """How far something moved, without a sign."""
    return format_angle(abs(value)) if unit == "rad" else small_length(abs(value))


_TURNS: Final = frozenset({"tilted", "pinion-turned", "mount-sagged"})
"""Looks whose size is an angle."""


def look_words(each: LooksLike) -> str:
    """What some moves look like."""
    size = size_words("rad" if each.look in _TURNS else "mm", each.by)
    by = f" by {size}" if each.by else ""
    return f"{_LOOKS[each.look].format(size=size, by=by)} (common practice, no source)"


def rig_lines(found: AgainstRig, visits: tuple[Visit, ...]) -> Iterator[str]:
    """The rig's ride height against the last visit."""
    when = visits[found.visit - 1].when
    if not found.moved:
        yield f"The file's ride height still stands: nothing moved since, by the visit of {when}."
        return
    if found.lower is not None and found.lower > 0.0:
        yield (
            f"By the visit of {when} the springs have settled {small_length(found.lower)} since "
            "the file was measured: measure again, or put the new numbers in."
        )
    else:
        yield (
            f"The file's ride height is not that of the visit of {when}: measure again, or put "
            "the new numbers in."
        )
    if found.put_in:
        told = ", ".join(f'{key} = "{value}"' for key, value in found.put_in.items())
        yield f"New numbers: {told}."
    else:
        yield (
            "The file has its joints by coordinates, or does not hold with these numbers: measure "
            "them again."
        )
