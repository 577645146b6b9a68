"""What a shake most likely is, in paragraphs: the likeliest first, with what would cure it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sim.rig import Rig
from sim.vibration import Suspected, Vibration
from sim.vibration.find import LIKELY
from viewer.words.sentence import small
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
    mend_name,
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


@dataclass(frozen=True)
class Cure:
    """What to do, and the rig file with it in place of the rig's own; "" where there is none."""

    says: str
    text: str = ""


@dataclass(frozen=True)
class Paragraph:
    """One suspect: what it is, whether the rig predicts it and what to look at, what cures it."""

    title: str
    says: tuple[str, ...]
    cures: tuple[Cure, ...]


@dataclass(frozen=True)
class Answer:
    """All that is told of a shake.

    Attributes
    ----------
    name : of the rig.
    asked : what somebody said, how often that comes round, and what is missing.
    suspects : those that are likely. rest : the others by name.
    caution : how far it goes.
    """

    name: str
    asked: tuple[str, ...]
    suspects: tuple[Paragraph, ...]
    rest: tuple[str, ...]
    caution: str


def told_of(found: Vibration, text_of: Callable[[Rig, str], str] = lambda *_: "") -> Answer:
    """Everything that is told.

    text_of : the rig file of a cured rig, given the name of the cure.
    """
    case = found.case
    fast = how_fast(case.symptom, case.turns)
    asked = f"{what_it_does(case.symptom, case.turns)}{': ' if fast else ''}{fast}."
    still = STANDS_STILL if case.stands_still else ""
    likely = list(likeliest(found))
    return Answer(
        name=case.rig.name,
        asked=tuple(filter(None, (asked, still, missing(found)))),
        suspects=tuple(
            Paragraph(
                _title(number, each, found),
                _says(each, found),
                tuple(_cures(each, found, text_of)),
            )
            for number, each in enumerate(likely)
        ),
        rest=tuple(_rest(found, [each for each in found.suspected if each not in likely])),
        caution=f"{UNSURE} {CAUTION}",
    )


def _title(number: int, each: Suspected, found: Vibration) -> str:
    if number == 0:
        return lead(found)
    then = "As likely" if each in found.as_likely else "Then"
    return f"{then}: {NAMES[each.code]} ({often(each)})."


def _says(each: Suspected, found: Vibration) -> tuple[str, ...]:
    told = (foretold(each, found), for_and_against(each, found.case.symptom))
    return tuple(filter(None, (" ".join(filter(None, told)), CHECKS[each.code])))


def _rest(found: Vibration, others: list[Suspected]) -> Iterator[str]:
    for each in others:
        # Whoever has a shaft built asks for the angles first.
        if each.code == "joint-angles" and not found.case.stands_still:
            yield f"The joint angles: {small(foretold(each, found))}"
    others = [each for each in others if each.code != "joint-angles" or found.case.stands_still]
    for title, some in (
        ("Less likely", [each for each in others if each.points >= 0]),
        ("Unlikely", [each for each in others if each.points < 0]),
    ):
        if some:
            yield f"{title}: {'; '.join(NAMES[each.code] for each in some)}."


def _cures(each: Suspected, found: Vibration, text_of: Callable[[Rig, str], str]) -> Iterator[Cure]:
    if each.code == _told_at(found) and found.mends:
        for mend in found.mends[:MOST_MENDS]:
            yield Cure(mend_line(mend), text_of(mend.cured, mend_name(mend)))
        if aim_alone(found):
            yield Cure(aim_alone(found))
    elif each.code == _told_at(found) and (
        each.points >= LIKELY or each.foretold.says in ("yes", "near")
    ):
        yield Cure(NO_MEND)
    elif each.code == "balance" and balance_line(found):
        yield Cure(balance_line(found))
    elif each.code == "whirl" and found.tube is not None:
        yield Cure(tube_line(found.tube), text_of(found.tube.cured, "stouter tube"))


def _told_at(found: Vibration) -> str:
    """The suspect under which the cures of the joints are told: the first that they cure."""
    cured = ("joint-angles", "wind-up", "carrier")
    return next((each.code for each in found.suspected if each.code in cured), "")
