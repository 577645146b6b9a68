"""What would cure a shaft, as text: the cheapest that works first, with what else it does."""

from collections.abc import Iterator, Sequence
from math import degrees
from textwrap import wrap

from sim.cures import Cure, Cures
from sim.cures.grinding import Grinding
from sim.cures.outcome import Outcome
from sim.surroundings import SurroundingGap
from sim.units import format_fraction
from viewer.commands.relief import GRIND_CAUTION, headline
from viewer.cures_words import (
    ROOM_ONLY,
    cure_near,
    cure_price,
    cure_rests,
    cure_says,
    cures_lead,
    left_words,
    margin_cells,
    near_as_it_is,
    outcome_word,
    read_further,
    useless_words,
)
from viewer.session.cure_lines import NOT_ENOUGH
from viewer.words import CAUTION

WIDTH = 96

SURROUNDINGS = (
    "Doses are found for the joints with their gaps, the slip and reach. What lives near the shaft "
    "is looked at afterwards; nothing is called a cure that leaves the shaft hitting it."
)

TICKET = f"{ROOM_ONLY}: `bindpoint build` on the saved rig."


def cures_text(found: Cures, ground: Sequence[Grinding] | None = None) -> str:
    """Everything that was found; `ground` is what grinding would take, where that was asked."""
    return "\n".join(_lines(found, ground))


def _lines(found: Cures, ground: Sequence[Grinding] | None) -> Iterator[str]:
    before = found.before
    yield found.rig.name
    yield f"{outcome_word(before, found.near)}  as it is"
    if before.verdict == "clear":
        yield ""
        yield from wrap(cures_lead(found), WIDTH)
        yield from wrap(near_as_it_is(found), WIDTH)
        yield ""
        yield from wrap(TICKET, WIDTH)
        yield from wrap(CAUTION, WIDTH)
        return
    yield from wrap(read_further(found), WIDTH)
    yield from wrap(near_as_it_is(found), WIDTH)
    yield ""
    working = sum(cure.works for cure in found.cures)
    yield cures_lead(found)
    for number, cure in enumerate(found.cures, start=1):
        if number == working + 1:
            yield ""
            yield NOT_ENOUGH
        yield from _cure(number, cure)
    if found.useless:
        yield ""
        yield from wrap(useless_words(found), WIDTH, subsequent_indent="  ")
    yield ""
    yield from _grinding(ground)
    yield ""
    yield "Before and after:"
    yield from _table(found)
    yield ""
    yield from wrap(_rule(found), WIDTH)
    yield from wrap(SURROUNDINGS, WIDTH)
    yield from wrap(TICKET, WIDTH)
    yield from wrap(CAUTION, WIDTH)


def _cure(number: int, cure: Cure) -> Iterator[str]:
    for i, line in enumerate(cure_says(cure)):
        lead = f"{number:>3}. " if i == 0 else _INDENT
        yield from wrap(line, WIDTH, initial_indent=lead, subsequent_indent=_INDENT)
    for line in (cure_price(cure), cure_near(cure), cure_rests(cure)):
        yield from wrap(line, WIDTH, initial_indent=_INDENT, subsequent_indent=_INDENT)


_INDENT = " " * 5


def _grinding(ground: Sequence[Grinding] | None) -> Iterator[str]:
    if ground is None:
        yield "What grinding the yokes would take: ask with --grind, 10 to 20 s a joint."
        return
    yield "What grinding the yokes would take:"
    for each in ground:
        lead = f"  {each.joint} joint, for {degrees(each.wanted):.1f} deg: "
        if each.found is None or each.hardware is None:
            yield from wrap(f"{lead}{each.why}.", WIDTH, subsequent_indent="    ")
            continue
        plans = [plan for plan in each.found.plans if plan.stop is None] or each.found.plans
        best = max(plans, key=lambda plan: plan.reached)
        text = f"{lead}{headline(each.hardware, best)}"
        yield from wrap(text, WIDTH, subsequent_indent="    ")
    if ground:
        yield from wrap(GRIND_CAUTION, WIDTH, initial_indent="  ", subsequent_indent="  ")


def _table(found: Cures) -> Iterator[str]:
    joints = list(found.before.margins)
    heads = [*(f"{joint}" for joint in joints), "closes", "opens", "shake", "length", ""]
    row = "{:<10}" + "{:>11}" * len(joints) + "{:>11}{:>11}{:>10}{:>12}  {}"
    yield row.format("", *heads)
    yield row.format("as it is", *_cells(found.before, found.near))
    for number, cure in enumerate(found.cures, start=1):
        yield row.format(f"with {number}", *_cells(cure.after, cure.near))


def _cells(outcome: Outcome, near: Sequence[SurroundingGap]) -> list[str]:
    bends = [words for _, words in margin_cells(outcome)]
    slips = [left_words(outcome.closes_left), left_words(outcome.opens_left)]
    shake = f"{degrees(outcome.uneven):.2f} deg"
    return [*bends, *slips, shake, format_fraction(outcome.length), outcome_word(outcome, near)]


def _rule(found: Cures) -> str:
    by = found.weights
    return (
        "Joints and slip: what is left over the whole travel. Shake: how far the pinion leads and "
        "lags at ride height. Order: parts + "
        f"{by.hour:g} x hours + {by.travel:g} x share of travel given up, in sets of straps "
        f"({by.source}); put in your own with --weights."
    )
