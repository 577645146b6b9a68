"""What would cure a shaft, as text: the cheapest that works first, with what else it does."""

from collections.abc import Iterator, Sequence
from math import degrees
from shutil import get_terminal_size
from textwrap import wrap

from sim.cures import Cure, Cures
from sim.cures.aim import AimCurve
from sim.cures.grinding import Grinding
from viewer.cures.table import cures_table
from viewer.relief.text import GRIND_CAUTION, headline
from viewer.session.cures.lines import NOT_ENOUGH
from viewer.words.aim import aim_says, joints_short
from viewer.words.cure_names import cure_title
from viewer.words.cures import (
    ON_SOME,
    ROOM_ONLY_HERE,
    SURROUNDINGS_AFTER,
    cure_near,
    cure_price,
    cure_rests,
    cure_says,
    cure_sure,
    cures_lead,
    near_as_it_is,
    outcome_word,
    read_further,
    ruled_out,
    table_rule,
    travel_kept,
    useless_words,
)
from viewer.words.remarks import said
from viewer.words.verdicts import CAUTION

WIDEST, NARROWEST = 96, 60
"""Columns that are used of a terminal; all of them where it is not known to be one."""


def cures_text(
    found: Cures, ground: Sequence[Grinding] | None = None, curve: AimCurve | None = None
) -> str:
    """Everything that was found.

    ground : what grinding would take, where that was asked. curve : aims of the pinion.
    """
    wide = get_terminal_size((WIDEST, 24)).columns
    return "\n".join(_lines(found, ground, curve, min(WIDEST, max(NARROWEST, wide))))


def _lines(
    found: Cures, ground: Sequence[Grinding] | None, curve: AimCurve | None, width: int
) -> Iterator[str]:
    def folded(*texts: str) -> Iterator[str]:
        for text in texts:
            yield from wrap(text, width)

    yield found.rig.name
    yield f"{outcome_word(found.before, found)}  as it is"
    if found.before.verdict == "clear":
        yield ""
        yield from folded(cures_lead(found), near_as_it_is(found))
        yield ""
        yield from folded(ROOM_ONLY_HERE, CAUTION)
        return
    yield from folded(read_further(found), near_as_it_is(found))
    yield ""
    yield from folded(ruled_out(found), travel_kept(found), cures_lead(found))
    before = None
    for number, cure in enumerate(found.cures, start=1):
        heading = "" if cure.holds else f"{ON_SOME}:" if cure.works else NOT_ENOUGH
        if heading not in (before, "") and (number > 1 or heading == NOT_ENOUGH):
            yield ""
            yield heading
        before = heading
        yield from _cure(number, cure, width)
    if curve is not None and joints_short(found.before):
        yield ""
        yield from wrap(aim_says(found.rig, curve), width, subsequent_indent="  ")
    if found.useless:
        yield ""
        yield from wrap(useless_words(found), width, subsequent_indent="  ")
    yield ""
    yield from _grinding(ground, width)
    yield ""
    yield "Before and after:"
    yield from cures_table(found, width)
    yield ""
    yield from folded(table_rule(found), SURROUNDINGS_AFTER, ROOM_ONLY_HERE, CAUTION)


def _cure(number: int, cure: Cure, width: int) -> Iterator[str]:
    lead = f"{number:>3}. "
    yield from wrap(cure_title(cure), width, initial_indent=lead, subsequent_indent=_INDENT)
    for line in (
        *cure_says(cure),
        cure_sure(cure),
        cure_price(cure),
        cure_near(cure),
        cure_rests(cure),
    ):
        yield from wrap(line, width, initial_indent=_INDENT, subsequent_indent=_INDENT)


_INDENT = " " * 5


def _grinding(ground: Sequence[Grinding] | None, width: int) -> Iterator[str]:
    if ground is None:
        yield "For what grinding the yokes would take, add --grind (10 to 20 s a joint)."
        return
    yield "What grinding the yokes would take:"
    for each in ground:
        lead = f"  {each.joint} joint, for {degrees(each.wanted):.1f} deg: "
        if each.found is None or each.hardware is None:
            yield from wrap(f"{lead}{said(each.why)}.", width, subsequent_indent="    ")
            continue
        plans = [plan for plan in each.found.plans if plan.stop is None] or each.found.plans
        best = max(plans, key=lambda plan: plan.reached)
        text = f"{lead}{headline(each.hardware, best)}"
        yield from wrap(text, width, subsequent_indent="    ")
    if ground:
        yield from wrap(GRIND_CAUTION, width, initial_indent="  ", subsequent_indent="  ")
