"""What a shake most likely is, as text: the likeliest first, with what would mend it."""

from collections.abc import Iterator

from sim.vibration import Suspected, Vibration
from sim.vibration.find import LIKELY
from viewer.words.lines import item
from viewer.words.verdicts import CAUTION
from viewer.words.vibration import (
    CHECKS,
    NAMES,
    NO_MEND,
    STANDS_STILL,
    aim_alone,
    balance_line,
    for_and_against,
    foretold,
    how_fast,
    lead,
    likeliest,
    mend_line,
    missing,
    often,
    tube_line,
    what_it_does,
)

MOST_MENDS = 2
"""Cures that are told; JSON has them all."""

UNSURE = (
    "Ranked by rules of the trade (common practice, no source); only what the rig predicts is "
    "computed. Consistent with, never proof."
)


def vibration_text(found: Vibration) -> str:
    """All of it, some twenty lines."""
    return "\n".join(_lines(found))


def _lines(found: Vibration) -> Iterator[str]:
    case = found.case
    fast = how_fast(case.turns)
    yield case.rig.name
    yield from item(f"{what_it_does(case.symptom, case.turns)}{': ' if fast else ''}{fast}.", "")
    for line in (STANDS_STILL if case.stands_still else "", missing(found)):
        yield from item(line, "") if line else ()
    told = list(likeliest(found))
    for number, each in enumerate(told):
        yield ""
        then = "As likely" if each in found.as_likely else "Then"
        first = lead(found) if not number else f"{then}: {NAMES[each.code]} ({often(each)})."
        yield from item(first, "  ")
        yield from _suspected(each, found)
    rest = [each for each in found.suspected if each not in told]
    yield ""
    for title, some in (
        ("Less likely", [each for each in rest if each.points >= 0]),
        ("Unlikely", [each for each in rest if each.points < 0]),
    ):
        if some:
            yield from item(f"{title}: {'; '.join(NAMES[each.code] for each in some)}.", "  ")
    yield ""
    yield from item(f"{UNSURE} {CAUTION}", "")


def _suspected(each: Suspected, found: Vibration) -> Iterator[str]:
    told = (foretold(each, found), for_and_against(each, found.case.symptom))
    for words in (" ".join(filter(None, told)), CHECKS[each.code]):
        yield from item(f"  {words}", "  ") if words else ()
    for line in _mends(each, found):
        yield from item(f"  - {line}", "    ")


def _mends(each: Suspected, found: Vibration) -> Iterator[str]:
    if each.code == _told_at(found) and found.mends:
        yield from map(mend_line, found.mends[:MOST_MENDS])
        if aim_alone(found):
            yield aim_alone(found)
    elif each.code == _told_at(found) and (
        each.points >= LIKELY or each.foretold.says in ("yes", "near")
    ):
        yield NO_MEND
    elif each.code == "balance" and balance_line(found):
        yield balance_line(found)
    elif each.code == "whirl" and found.tube is not None:
        yield tube_line(found.tube)


def _told_at(found: Vibration) -> str:
    """The suspect under which the cures of the joints are told: the first that they cure."""
    cured = ("joint-angles", "wind-up", "carrier")
    return next((each.code for each in found.suspected if each.code in cured), "")
