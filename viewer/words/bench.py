"""Words for readings of a joint itself: how each is taken, what it says, what comes of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sim.rig.bench import BenchReading

LEAD: Final = (
    "The joint together, caps seated and held in, a vise, a protractor. Clean it first: paint, "
    "mud and play shift the touch. Write the angle with its unit, and +- how far off it may be if "
    "you know."
)
SAFETY: Final = (
    "Clamp the joint so that it cannot fall, soft jaws on tube or hub, never on a bore; fingers "
    "out of the joint. On the vehicle: frame on rated stands on hard level ground, wheels chocked, "
    "axle held two ways, engine off, nobody under it while the axle moves."
)
RESULT: Final = (
    "The yokes that come of readings are fitted, not measured. Geometry only: it certifies "
    "nothing. Turn the shaft by hand through its whole travel before driving."
)
CAUTION: Final = f"{SAFETY} {RESULT}"
FITTED: Final = "fitted, not measured"
"""What is said of yokes that bench readings made."""


def fitted_says(joint: str) -> str:
    """What is said of a joint that was read on the bench, where nothing else says it."""
    return f"The {joint} joint's yokes are {FITTED}."


BEND: Final = (
    "Push gently until metal stops it. Read the protractor on both shanks; the bend is the one "
    "less the other."
)


@dataclass(frozen=True)
class BenchWay:
    """One way to read a joint.

    Attributes
    ----------
    name : what it is called, and typed to choose it.
    means : what it is, in a line of a list.
    asks, how : the question, and how it is answered; {clamped} is the yoke in the vise.
    ears : word of the rig file for how the ears stand; "" off the bench.
    value : key of a reading that it gives.
    """

    name: str
    means: str
    asks: str
    how: str
    ears: str = ""
    value: str = "touches_at"


WAYS: Final = (
    BenchWay(
        "in line",
        "the clamped yoke's ears one above the other, the other yoke bent down",
        "{clamped} in the vise, ears one above the other: at what bend does metal touch?",
        f"The other yoke is bent down, straight toward the lower ear. {BEND}",
        "in line",
    ),
    BenchWay(
        "across",
        "the clamped yoke's ears level, the other yoke bent down between them",
        "{clamped} in the vise, ears level: at what bend does metal touch?",
        f"The other yoke is bent down, between the two ears. {BEND}",
        "across",
    ),
    BenchWay(
        "between",
        "the clamped yoke's ears halfway, turned 45 degrees",
        "{clamped} in the vise, ears turned 45 degrees: at what bend does metal touch?",
        f"Halfway between one above the other and level; the other yoke is bent down. {BEND}",
        "between",
    ),
    BenchWay(
        "whole turn",
        "the lowest bend at which it touches at any turn",
        "What is the lowest bend at which metal touches, over a whole turn?",
        "Turn the clamped yoke in the vise a little at a time, an eighth of a turn or less, bend "
        "the other one down at each until it touches, and keep the lowest.",
        "any",
    ),
    BenchWay(
        "vehicle",
        "the height of the axle at which the hand-turned shaft first catches",
        "At what height of the axle, from ride height, does this joint first catch?",
        "Let the axle down (or up) a little at a time, both sides level. At each height turn the "
        "shaft by hand through a whole turn. Say the height at which this joint first catches, "
        "such as 6 1/2 in droop.",
        value="catches_at",
    ),
    BenchWay(
        "maker",
        "the largest bend that the maker of the part states",
        "What is the largest bend that the part's maker states?",
        "Of the joint with both yokes, at any turn. It is rounded and often meant with some room "
        "to spare, so it weighs little beside a reading of yours.",
        value="maker_says",
    ),
)
"""All of them, the most telling first."""

SIGNS: Final = (
    "Red arrows: push, and the bend that is read. Red ring: where a generic joint touches. "
    "Dashed: the lines of the two shafts."
)
SEEN: Final[Mapping[str, str]] = {
    "from the side": "From the side, square to the bend; 1 and 2 are the two places to read.",
    "on the vehicle, from its side": "From the side: frame on stands, the axle let down by a jack.",
    "in the maker's papers": "From the side: the bend that a maker means.",
}


def reading_words(reading: BenchReading) -> str:
    """A reading in a line: "shaft yoke clamped, ears in line: touches at 24 1/2 deg"."""
    key = _value(reading)
    said = _SAID[key].format(getattr(reading, key).typed)
    if key not in _BENT:
        return said
    if reading.ears == "any":
        return f"{said}, lowest of a whole turn"
    turned = f"ears {reading.ears}" if reading.ears else f"ears {_turned(reading)} from in line"
    return f"{reading.held} clamped, {turned}: {said}"


def _turned(reading: BenchReading) -> str:
    return "" if reading.turned is None else str(reading.turned.typed)


def _value(reading: BenchReading) -> str:
    return next(key for key in _SAID if getattr(reading, key) is not None)


_BENT: Final = ("touches_at", "clear_to")
_SAID: Final[Mapping[str, str]] = {
    "touches_at": "touches at {}",
    "clear_to": "clear up to {}",
    "catches_at": "on the vehicle it first catches at {}",
    "maker_says": "its maker states {}",
}
