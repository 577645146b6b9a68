"""What a joint's bench readings come to, in words: its band, its yokes, and what to read next."""

from collections.abc import Iterator
from math import degrees, isfinite
from typing import Final

from sim.bench.fitted import Contradiction, FittedDimension, FittedJoint, NextReading, Turned
from sim.bench.foretold import Foretold
from viewer.words.bench import FITTED
from viewer.words.reading_names import reading_name
from viewer.words.units import exact, format_angle

NARROW: Final = 0.9
"""A reading is worth taking if it leaves less than this of the band."""

LITTLE: Final = 0.85
"""What readings leave of a dimension's doubt is told below this; the rest is the draws' own
scatter, or nothing."""

TOLD: Final = 3
"""Readings that are told as worth taking."""


def band_words(low: float, high: float) -> str:
    """From one bend to another (rad): "24.3 to 26.1 deg"."""
    one, other = f"{degrees(low):.1f}", format_angle(high)
    return other if other == f"{one} deg" else f"{one} to {other}"


def answer_lines(found: FittedJoint) -> Iterator[str]:
    """What readings say, line by line: band before and after, what fights, what to read next."""
    yield (
        f"This joint first touches at {band_words(*found.lowest)}, 95 joints of 100 that read like "
        f"it; before any reading {band_words(*found.before)}. The yokes are {FITTED}."
    )
    yield from fights(found)
    yield next_words(found)


def foretold_lines(found: Foretold) -> Iterator[str]:
    """What readings say by forecast, until yokes that agree are built."""
    yield (
        f"About {band_words(*found.lowest)}: a forecast of where this joint first touches. Yokes "
        "that read like it are being built to make sure."
    )
    yield from fights(found)


def fights(found: FittedJoint | Foretold) -> Iterator[str]:
    """What contradicts, a sentence each."""
    for each in found.contradictions:
        yield _of_kind(each, found) if each.kind == "yoke" else _between(each, found)


def next_words(found: FittedJoint) -> str:
    """The reading that would narrow the band most, and what it would leave of it."""
    best = next((each for each in found.next if each.narrows < NARROW), None)
    if best is None:
        return "No reading more would narrow that much."
    return f"Read next: {asked_for(best, found)}."


def next_lines(found: FittedJoint) -> Iterator[str]:
    """Readings that are worth taking, the best first."""
    for each in found.next[:TOLD]:
        if each.narrows < NARROW:
            yield asked_for(each, found)


def asked_for(reading: NextReading, found: FittedJoint) -> str:
    """A reading to take, and what it would leave of the band."""
    leaves = f"leaves a band of about {degrees(reading.band):.1f} deg"
    if reading.way == "caliper":
        return f"{reading_name(reading.key)}, with a caliper; {leaves}"
    says = band_words(reading.low, reading.high)
    taken = any(each.turned.ears == reading.turned.ears for each in found.readings)
    again = ", once more" if reading.turned.ears is None and taken else ""
    return f"{turned_words(reading.turned)}{again}; it will say {says} and {leaves}"


def turned_words(turned: Turned) -> str:
    """How a joint is held: "pinion yoke clamped, ears across"."""
    held = turned.clamped.replace("_", " ")
    if turned.ears is None:
        return "the lowest of a whole turn"
    ears = turned.word or f"{degrees(turned.ears):.0f} deg from in line"
    return f"{held} clamped, ears {ears}"


def fitted_lines(found: FittedJoint) -> Iterator[str]:
    """All of it, for whoever looks at the joint: readings against the fit, and dimensions."""
    count = len(found.readings)
    yield (
        f"Yokes {FITTED}, from {count} reading{'' if count == 1 else 's'}. 95 joints of 100 that "
        f"read like it first touch at {band_words(*found.lowest)}; before any reading "
        f"{band_words(*found.before)}."
    )
    yield from fights(found)
    for each in found.readings:
        fits = format_angle(each.fits) if isfinite(each.fits) else "no touch"
        left = "" if each.counts else "; left out"
        yield (
            f"  reading {each.number}: {format_angle(each.read)} +- {format_angle(each.off)}, the "
            f"fitted yokes have {fits}{left}"
        )
    told = [each for each in found.dimensions if _narrowed(each) < LITTLE]
    for dimension in sorted(told, key=_narrowed):
        yield f"  {dimension_words(dimension)}"
    rest = len(found.dimensions) - len(told)
    if rest:
        yield f"  {rest} other dimensions: as of their kind, the readings say little of them"
    for line in next_lines(found):
        yield f"  Read next: {line}."
    if found.replaced:
        yield (
            "The forecast of these yokes was farther off than usual, and was put right by whole "
            "touch curves."
        )


def _narrowed(each: FittedDimension) -> float:
    """What the readings leave of the doubt about a dimension, 0 to 1."""
    return (each.high - each.low) / (2.0 * each.free.off)


def dimension_words(each: FittedDimension) -> str:
    """A dimension with its band: "the throat depth of the pinion yoke 1.102 in (28.0 mm), ..."."""
    own = ", measured" if each.free.measured else ""
    return (
        f"{reading_name(each.free.key)}: {exact(each.value)}, from {each.low / 25.4:.3f} to "
        f"{each.high / 25.4:.3f} in{own}"
    )


def _between(fight: Contradiction, found: FittedJoint | Foretold) -> str:
    """Readings that fight each other: which to take again."""
    first, near = fight.numbers[0], fight.nearest[0]
    others = " and ".join(str(each) for each in sorted(fight.numbers))
    read = next(each for each in found.readings if each.number == first)
    return (
        f"Readings {others} do not go together: with the others, reading {first} would be "
        f"{format_angle(near)}, not {format_angle(read.read)}. Take reading {first} again first."
    )


def _of_kind(fight: Contradiction, found: FittedJoint | Foretold) -> str:
    """A reading that this kind of yoke cannot give."""
    first, near = fight.numbers[0], fight.nearest[0]
    read = next(each for each in found.readings if each.number == first)
    return (
        f"Reading {first} is {format_angle(read.read)}, and yokes of this kind come to "
        f"{format_angle(near)} at the nearest: is it another kind or size of yoke, or was the "
        "other yoke clamped?"
    )
