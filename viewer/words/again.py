"""What to read again, with what, in a shop's words, and what the verdict would be then."""

from collections.abc import Iterator
from math import degrees
from typing import Final

from sim.bars import Again, Bars, Outcome
from viewer.words.bars import LIKELY, LIKELY_TO_RUN_OUT
from viewer.words.reading_names import reading_name
from viewer.words.units import format_fraction

HELPS: Final = "What helps most:"


def again_words(each: Again) -> str:
    """One thing to read again: how, how much of the doubt goes, what it would come to."""
    return f"{_how(each)}: {narrowing(each.narrows)}. {_ends(each)}."


def again_short(each: Again) -> str:
    """The same beside its own field: "Read again with a digital level: halves the doubt."."""
    if each.key.endswith(".bench"):
        return f"Bend the joint on the bench: {narrowing(each.narrows)}."
    does = "Measure" if each.why in ("assumed", "generic part") else "Read again"
    return f"{does} with a {each.better}: {narrowing(each.narrows)}."


def again_lines(bars: Bars) -> Iterator[str]:
    """Everything that is worth reading again; nothing where no reading would change the verdict."""
    ends = {end.likely for each in bars.again for end in (each.low, each.high)}
    if bars.likely != "may-touch" and ends <= {bars.likely}:
        return iter(())
    return map(again_words, bars.again)


def read_first(bars: Bars) -> str:
    """The reading that narrows the doubt most; "" where there is none, or no doubt."""
    if not bars.again or bars.likely != "may-touch":
        return ""
    first = bars.again[0]
    how = _how(first)
    return f"{HELPS} {how[:1].lower()}{how[1:]} ({narrowing(first.narrows)})."


def narrowing(narrows: float) -> str:
    """How much of the doubt a reading takes away: "halves the doubt"."""
    for most, said in _NARROWS:
        if narrows <= most:
            return f"{said} the doubt"
    return "takes little off the doubt"


_NARROWS: Final = (
    (0.15, "takes nearly all of"),
    (0.29, "takes three quarters off"),
    (0.42, "takes two thirds off"),
    (0.58, "halves"),
    (0.71, "takes a third off"),
    (0.82, "takes a quarter off"),
    (0.93, "takes a tenth off"),
)
"""Share of the doubt that is left at most, and how that is said."""


def _how(each: Again) -> str:
    if each.key.endswith(".bench"):
        return f"Bend the {_JOINTS[each.key]} joint on the bench until it touches"
    name = reading_name(each.key)
    tool = f"with a {each.better}"
    if each.why in ("assumed", "generic part"):
        return f"Measure {name} {tool}"
    return f"Read {name} again {tool}"


_JOINTS: Final = {
    "shaft.output_end.bench": "output",
    "carrier.middle.bench": "middle",
    "shaft.pinion_end.bench": "pinion",
}


def _ends(each: Again) -> str:
    """What the verdict would be if it came out at either end."""
    low, high = (f"{_value(each, end)} {_comes_to(each, end)}" for end in (each.low, each.high))
    return f"At {low}; at {high}"


def _value(each: Again, end: Outcome) -> str:
    if each.unit == "rad":
        return f"{degrees(end.value):.1f} deg"
    return format_fraction(end.value, 32)


def _comes_to(each: Again, end: Outcome) -> str:
    words = LIKELY_TO_RUN_OUT if each.code in _SLIP else LIKELY
    return words[end.likely]


_SLIP: Final = frozenset({"slip-closes", "slip-opens", "slip-comes-apart"})
