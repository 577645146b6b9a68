"""Why a joint broke or wore, in lines: first those for the counter, then all the rest."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from sim.causes import NOT_RULED_OUT, SignCode
from sim.causes.bands import band
from sim.why.why import SEEN, Speaks, Weighed, Why
from viewer.why.to_do import counter_do, to_do
from viewer.words.causes import CAUSES, chance_words, percent
from viewer.words.pulled import overload_lines
from viewer.words.remarks import said
from viewer.words.sentence import capital
from viewer.words.signs import SIGN_WORDS, sign_words
from viewer.words.verdicts import CAUTION

CONSISTENT: Final = (
    "Consistent with what was seen and measured, never proof: other causes stay open until they "
    "are looked at. Odds are the trade's, common practice, no source; what the rig computes is "
    "geometry and estimate."
)
"""How far an answer goes."""

MOST_SIGNS: Final = 4
"""Signs that are told of one cause at the counter."""

WORTH: Final = 0.02
"""Bits from which on another look is worth it (judgement)."""


@dataclass(frozen=True)
class Section:
    """A title and what stands under it."""

    title: str
    entries: tuple[str, ...]


@dataclass(frozen=True)
class Told:
    """All that is told of why a joint broke or wore.

    Attributes
    ----------
    title : whose joint. counter : what one says at the counter, a line or two each.
    detail : all the rest. caution : how far it goes.
    """

    title: str
    counter: tuple[str, ...]
    detail: tuple[Section, ...]
    caution: str


def told_of(why: Why, rig: str = "RIG") -> Told:
    """Everything that is told. rig : its file name, or demo:NAME, for the commands."""
    return Told(
        title=f"{why.case.rig.name}: {why.joint} joint",
        counter=tuple(_counter(why)),
        detail=tuple(_detail(why, rig)),
        caution=f"{CONSISTENT} {CAUTION}",
    )


def _counter(why: Why) -> Iterator[str]:
    first = why.causes[0]
    yield f"{_story(why)} {_lead(first)}"
    yield from _backed(why, first)
    for other in why.causes[1:3]:
        if band(other.chance) in ("very-likely", "likely", "possible"):
            yield _second(other)
    yield from counter_do(why)
    yield from _next(why)


def _story(why: Why) -> str:
    """Whether it broke or wore, held against how it came in."""
    came, story = why.inspection.came, why.story
    if came == "runs":
        return "It still runs." if story == "open" else "It still runs, but it is worn."
    if story == "wore" and came == "broke":
        return "It wore first, then it came apart."
    if story == "broke" and came == "wore":
        return "Something broke in it."
    if story == "open" and came == "broke":
        return "It broke; whether it was worn before is open."
    return {"broke": "It broke.", "wore": "It wore out.", "open": "Broke or wore: that is open."}[
        story
    ]


def _lead(first: Weighed) -> str:
    words = CAUSES[first.code]
    if first.likely:
        return f"{capital(chance_words(first.chance))}: {words.it}. {words.how}"
    return f"Nothing stands out yet. First to look at: {words.name}, {chance_words(first.chance)}."


def _backed(why: Why, cause: Weighed) -> Iterator[str]:
    """What was seen that speaks for a cause, and what the rig computes for and against it."""
    seen = [each for each in cause.speaks_for if each.sign in SEEN and each.sign != "came-apart"]
    if seen:
        yield f"Seen: {_signs(seen[:MOST_SIGNS])}."
    computed = [each for each in cause.speaks_for if each.sign not in SEEN]
    if computed:
        yield f"{capital(_why(why, computed[0].sign))}."
    against = [each for each in cause.against if each.sign not in SEEN]
    if against:
        yield f"But {_why(why, against[0].sign)}."


def _second(other: Weighed) -> str:
    words = CAUSES[other.code]
    for_it = [each for each in other.speaks_for if each.sign in SEEN and each.there]
    for_it = [each for each in for_it if each.sign != "came-apart"][:2]
    since = f". For it: {_signs(for_it)}" if for_it else ""
    lead = "Likely as well" if other.likely else "Also possible"
    return f"{lead} ({percent(other.chance)}): {words.it}{since}."


def _next(why: Why) -> Iterator[str]:
    """What would settle most."""
    if not why.next or why.next[0].bits < WORTH:
        return
    words = SIGN_WORDS[why.next[0].sign]
    yield f"Nobody looked yet, and it would settle most: {words.asks} Use {words.tool}."


def _signs(signs: Iterable[Speaks]) -> str:
    return "; ".join(_plain(sign_words(each.sign, each.there)) for each in signs)


def _plain(words: str) -> str:
    """What is there, in a list of such."""
    return words.removeprefix("there are ").removeprefix("there is ")


def _why(why: Why, sign: SignCode) -> str:
    """What the rig says of a sign, with its numbers."""
    found = why.computed_of(sign)
    return SIGN_WORDS[sign].there if found is None else said(found.why)


def _detail(why: Why, rig: str) -> Iterator[Section]:
    for title, lines in to_do(why, rig):
        yield Section(title, lines)
    for each in why.not_ruled_out:
        words = CAUSES[each.code]
        yield Section(
            f"{capital(words.name)}: {chance_words(each.chance)}",
            tuple(weighed_lines(why, each)),
        )
    rest = [each for each in why.causes if each.chance < NOT_RULED_OUT]
    names = "; ".join(CAUSES[each.code].name for each in rest)
    yield Section(f"Hardly, by what was looked at (each under {percent(NOT_RULED_OUT)})", (names,))
    yield Section("What it gets, and what it holds", tuple(overload_lines(why.asked.overload)))
    if why.posterior.unexplained:
        yield Section(
            "No cause here explains",
            tuple(sign_words(sign, True) for sign, _ in why.posterior.unexplained),
        )


def weighed_lines(why: Why, cause: Weighed) -> Iterator[str]:
    """What speaks for a cause, what against it, and what was not looked at."""
    for title, signs in (("For it", cause.speaks_for), ("Against it", cause.against)):
        told = [
            _plain(sign_words(each.sign, each.there)) if each.sign in SEEN else _why(why, each.sign)
            for each in signs
        ]
        if told:
            yield f"{title}: {'; '.join(dict.fromkeys(told))}."
    settle = [f"{SIGN_WORDS[sign].asks} ({SIGN_WORDS[sign].tool})" for sign, _ in cause.unseen[:3]]
    if settle:
        yield f"Not looked at: {' '.join(settle)}"
