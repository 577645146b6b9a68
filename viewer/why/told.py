"""Why a joint broke or wore, in lines: first those for the counter, then all the rest."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sim.causes import NOT_RULED_OUT
from sim.why.why import SEEN, Weighed, Why
from viewer.why.confirmed import confirmed_lines
from viewer.why.counter import computed_words, counter, signs_words, worth_saying
from viewer.why.parts import cap_lines, mark_lines
from viewer.why.to_do import to_do
from viewer.words.causes import CAUSES, chance_words, percent
from viewer.words.lines import stopped
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
        counter=counter(why, rig),
        detail=tuple(_detail(why, rig)),
        caution=f"{CONSISTENT} {CAUTION}",
    )


def _detail(why: Why, rig: str) -> Iterator[Section]:
    """Everything else, each part where there is anything of it."""
    rest = [each for each in why.causes if each.chance < NOT_RULED_OUT]
    parts = (
        ("Odd about this inspection", (_sentence(said(each)) for each in why.doubts)),
        *to_do(why, rig),
        *(
            (
                f"{capital(CAUSES[each.code].name)}: {chance_words(each.chance)}",
                weighed_lines(why, each),
            )
            for each in why.not_ruled_out
        ),
        (
            f"Hardly, by what was looked at (each under {percent(NOT_RULED_OUT)})",
            ["; ".join(CAUSES[each.code].name for each in rest)],
        ),
        (
            "No cause here explains",
            (sign_words(sign, True, why.inspection) for sign in why.unexplained),
        ),
        ("Where metal meets, if the axle is forced through its travel", mark_lines(why)),
        ("How the caps sit, by what was measured", cap_lines(why)),
        ("What it gets, and what it holds", overload_lines(why.asked.overload)),
        ("Your own settled joints", confirmed_lines(why.confirmed)),
    )
    for title, entries in parts:
        told = tuple(entries)
        if told:
            yield Section(title, told)


def _sentence(words: str) -> str:
    return stopped(capital(words))


def weighed_lines(why: Why, cause: Weighed) -> Iterator[str]:
    """What speaks for a cause, what against it, and what was not looked at."""
    for title, signs in (("For it", cause.speaks_for), ("Against it", cause.against)):
        told = [
            signs_words(why, [each]) if each.sign in SEEN else computed_words(why, each)
            for each in worth_saying(why, signs)
        ]
        if told:
            yield f"{title}: {'; '.join(dict.fromkeys(told))}."
    settle = [f"{SIGN_WORDS[sign].asks} ({SIGN_WORDS[sign].tool})" for sign, _ in cause.unseen[:3]]
    if settle:
        yield f"Not looked at: {' '.join(settle)}"
    low, high = (percent(chance) for chance in why.within[cause.code])
    if low != high:
        yield f"Nobody knows these odds exactly: anywhere from {low} to {high}."
