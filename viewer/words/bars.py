"""How sure an answer is, in words: out of how many trucks that measure like this one."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from sim.bars import Band, Bars, FindingBars, Likely
from sim.bars.doubts import Doubts
from sim.bench.shape import Shape
from sim.findings import Finding
from viewer.words.lines import listed
from viewer.words.poses import travel_words
from viewer.words.reading_names import reading_name
from viewer.words.units import format_angle, format_fraction, format_fraction_up

SURE: Final = "How sure:"

_SLIP: Final = frozenset({"slip-closes", "slip-opens", "slip-comes-apart"})
"""Findings of a slip that runs out, where no metal meets."""


LIKELY: Final[Mapping[Likely, str]] = {
    "clear": "clear",
    "may-touch": "may touch",
    "touches": "touches",
}
LIKELY_TO_RUN_OUT: Final[Mapping[Likely, str]] = {
    "clear": "clear",
    "may-touch": "may run out",
    "touches": "runs out",
}
"""What is likely, in words."""


def trucks(share: float) -> str:
    """A share of all trucks: "7 trucks in 10", "fewer than 1 truck in 100"."""
    hundredths, tenths = round(100.0 * share), round(10.0 * share)
    if hundredths < 1:
        return "fewer than 1 truck in 100"
    if hundredths > 99:
        return "more than 99 trucks in 100"
    if 0.1 <= share <= 0.9:
        return f"{tenths} truck{'' if tenths == 1 else 's'} in 10"
    return f"{hundredths} truck{'' if hundredths == 1 else 's'} in 100"


def works_for(chance: float) -> str:
    """On how many trucks a cure works, by its chance of touching: "at least 8 trucks in 10"."""
    tenths = min(9, int(10.0 * (1.0 - chance)))
    return f"at least {tenths} truck{'' if tenths == 1 else 's'} in 10" if tenths else "hardly any"


def likely_words(bars: Bars | FindingBars) -> str:
    """What is likely: "may touch", "runs out"."""
    return (LIKELY_TO_RUN_OUT if _runs_out(bars) else LIKELY)[bars.likely]


def sure_words(bars: Bars, doubts: Doubts) -> str:
    """How sure the verdict is, in a sentence, and what was taken to be off."""
    rests = taken_words(doubts)
    return (
        f"{SURE} {likely_words(bars)}; of trucks that measure like this one "
        f"{_touch(bars, bars.chance).replace(' trucks', '').replace(' truck', '')}"
        f"{f' ({rests})' if rests else ''}."
    )


def _touch(bars: Bars | FindingBars, chance: float) -> str:
    """How many touch: "7 trucks in 10 touch", "1 truck in 100 runs out"."""
    said = trucks(chance)
    is_one = re.search(r"\b1 truck\b", said) is not None and "than" not in said
    does = ("runs out" if is_one else "run out") if _runs_out(bars) else "touches"
    return f"{said} {does if is_one or does == 'run out' else 'touch'}"


def unsure_words(why: str) -> str:
    """Instead of that, where nobody can tell."""
    return f"{SURE} nobody can tell: {why}"


def taken_words(doubts: Doubts) -> str:
    """What was taken for how far off things are, where nobody said: "usual tape, generic yokes"."""
    tools = sorted({each.tool for each in doubts.sources if each.why == "usual" and each.tool})
    said = [f"usual {' and '.join(tools)}"] if tools else []
    generic = [joint for joint, shape in doubts.shapes.items() if _is_generic(shape)]
    if generic:
        where = "" if len(generic) == len(doubts.shapes) else f" at the {' and '.join(generic)}"
        said.append(f"generic yokes{where}")
    return ", ".join(said)


def _is_generic(shape: Shape) -> bool:
    """Whether its yokes are known by their kind alone: neither measured nor read on the bench."""
    return not all(free.measured or free.key.endswith(".bench") for free in shape.free)


def finding_sure(each: FindingBars, finding: Finding) -> str:
    """How sure one finding is: what is likely, its band, and where it first happens."""
    said = [likely_words(each)]
    if each.likely == "may-touch" or LITTLE_TOLD <= each.chance <= 1.0 - LITTLE_TOLD:
        clear = each.likely == "clear"
        said.append(_touch(each, each.chance) if clear else trucks(each.chance))
    said.append(_band(each, finding))
    if each.first is not None and finding.verdict == "touches":
        said.append(f"first at {heights(each.first)}")
    return f"{SURE} {', '.join(filter(None, said))}."


LITTLE_TOLD: Final = 0.005
"""Chance below which nothing is said of it but what is likely, since it rounds to nothing."""


def heights(band: Band) -> str:
    """Heights of the axle from the one to the other, as one gets to them from ride height."""
    near, far = sorted((band.high, band.low), key=abs)
    if far > 0.0 > near or near > 0.0 > far:
        near, far = band.high, band.low
    first, last = travel_words(near), travel_words(far)
    way = last.rpartition(" ")[2]
    if first == last:
        return first
    return f"{first.removesuffix(f' in {way}')} to {last}"


def left_band(band: Band, short: str = "too far") -> str:
    """What is left, from the least to the most: "1.2 deg too far to 3.4 deg left".

    short : what is said of less than nothing.
    """
    low, high = band.low, band.high
    least, most = _size(band.unit, low), _size(band.unit, high)
    if low <= 0.0 < high:
        return f"{least} {short} to {most} left"
    if high <= 0.0:
        return f"{_span(band.unit, most, least)} {short}"
    return f"{_span(band.unit, least, most)} left"


def span(band: Band) -> str:
    """Numbers from the one to the other, the unit once: "12.3 to 13.7 deg"."""
    return _span(band.unit, _size(band.unit, band.low), _size(band.unit, band.high))


def full_lines(bars: Bars, doubts: Doubts) -> Iterator[str]:
    """What the chances rest on: how they were found, how far off each number was taken to be."""
    yield ""
    yield _how(bars)
    yield from listed("Taken to be off by, 95 readings of 100", _off_lines(doubts))
    left = dict.fromkeys(map(reading_name, bars.left_out))
    yield from listed("May be off too, and is in no chance", left)
    for joint in bars.unshaped:
        yield f"Yokes of the {joint} joint are taken as they are: nobody can tell how far off."


def _how(bars: Bars) -> str:
    off = max(1, round(100.0 * bars.chance_off))
    if bars.how == "first":
        return (
            f"{SURE} this is a first look, good to {off} in 100. Try --sure, which draws whole "
            "trucks."
        )
    return (
        f"{SURE} {bars.draws:,} trucks drawn, seed {bars.seed}; the chance is good to {off} in 100."
    )


def _off_lines(doubts: Doubts) -> Iterator[str]:
    """By how far off and who says so, the names of all that are alike; then the yokes."""
    alike: dict[str, dict[str, None]] = {}
    for each in doubts.moving:
        size = format_angle(each.off, 2) if each.unit == "rad" else _small(each.off)
        who = _WHO[each.why].format(each.tool or "tool")
        alike.setdefault(f"{size} ({who})", {})[reading_name(each.key)] = None
    for said, names in alike.items():
        yield f"{said}: {'; '.join(names)}"
    for joint, shape in doubts.shapes.items():
        generic = [free for free in shape.free if not free.measured]
        measured = [free for free in shape.free if free.measured]
        if generic:
            throats = (free.off for free in generic if free.name == "throat_depth")
            deep = f": a throat by {_small(most)}" if (most := max(throats, default=0.0)) else ""
            yield (
                f"yokes of the {joint} joint, {len(generic)} of their dimensions as real ones "
                f"differ, from memory{deep}"
            )
        for free in measured:
            yield f"{_small(free.off)} (measured): {reading_name(free.key)}"


_WHO: Final = {
    "typed": "as typed",
    "tool": "{}",
    "usual": "usual {}",
    "assumed": "nobody gave it",
    "generic part": "spread of real parts, from memory",
}
"""Who says how far off."""


def _small(mm: float) -> str:
    shown = format_fraction_up(mm, 64)
    return shown if mm > 25.4 / 128.0 else f"{mm / 25.4:.3f} in"


def _runs_out(bars: Bars | FindingBars) -> bool:
    """Whether it is the slip alone that makes the chance."""
    if isinstance(bars, FindingBars):
        return bars.code in _SLIP
    most = max(bars.findings, key=lambda each: each.chance, default=None)
    return most is not None and most.chance > 0.0 and most.code in _SLIP


def _band(each: FindingBars, finding: Finding) -> str:
    """The band of a finding; "" where it has none."""
    if finding.code in _GAPS:
        return "" if each.worst is None else f"gap {span(each.worst)}"
    if each.band is None:
        return ""
    return left_band(each.band, "short" if finding.code in _SLIP else "too far")


_GAPS: Final = frozenset({"joint-gap", "surroundings", "surroundings-unfinished"})
"""Findings whose margin is less than what is left by what was wanted."""


def _size(unit: str, value: float) -> str:
    if unit == "deg":
        return f"{abs(value):.1f} deg"
    return format_fraction_up(-value) if value < 0.0 else format_fraction(value)


def _span(unit: str, low: str, high: str) -> str:
    if low == high:
        return low
    return f"{low.removesuffix(' deg' if unit == 'deg' else ' in')} to {high}"
