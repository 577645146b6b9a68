"""Why a joint broke or wore, each cause as a technician says it at the counter."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from sim.causes.bands import NOT_RULED_OUT, Band, band
from sim.causes.codes import CauseCode


@dataclass(frozen=True)
class CauseWords:
    """One cause in words.

    Attributes
    ----------
    name : in a list or beside a bar. it : after the odds, what happened to it.
    how : how that breaks or wears a joint, in one sentence.
    """

    name: str
    it: str
    how: str


CAUSES: Final[Mapping[CauseCode, CauseWords]] = {
    "bound": CauseWords(
        "bound: yoke against yoke",
        "it bound",
        "The yokes hit each other before the axle was at the end of its travel, and the axle "
        "pried the joint apart.",
    ),
    "overload": CauseWords(
        "one pull too hard",
        "one pull was too hard for it",
        "A tire grabbed or wedged and the shock went through it.",
    ),
    "undersized": CauseWords(
        "joint too small",
        "the joint is too small for this truck",
        "What it gets in everyday use is more than this size takes for long.",
    ),
    "hop": CauseWords(
        "axle hop",
        "the axle wound up and hopped",
        "The springs wrap up under throttle, the tire lets go, and the housing snaps back "
        "through the joint.",
    ),
    "no-grease": CauseWords(
        "no grease in it",
        "it ran without grease",
        "None of the four caps had any left.",
    ),
    "dry-cap": CauseWords(
        "one cap never got grease",
        "one cap ran dry",
        "Grease takes the easy way, and a cap that does not purge stays dry while the other three "
        "look fine.",
    ),
    "water": CauseWords(
        "water or dirt got in",
        "water or dirt got past the seals",
        "Grease turns to mud and rust, and the needles grind themselves down.",
    ),
    "bad-yoke": CauseWords(
        "bad yoke: ears spread, bent or twisted",
        "the yoke is bad, not the joint",
        "Its ears are spread, bent or twisted, so the caps sit crooked. The next joint in it goes "
        "the same way.",
    ),
    "bad-seat": CauseWords(
        "bad seat under one cap",
        "one seat in the yoke is bad",
        "A gouge, a burr or a mushroomed edge holds that cap crooked.",
    ),
    "bad-install": CauseWords(
        "not installed right",
        "it was not put in right",
        "A needle lay down, a cap was not home, the clip was the wrong one, or it was hammered in.",
    ),
    "loose-straps": CauseWords(
        "loose or stretched straps",
        "the straps or caps were loose",
        "The caps moved in their seats and wore them, and themselves.",
    ),
    "frozen-slip": CauseWords(
        "slip frozen",
        "the slip was stuck",
        "A spline that does not slide pushes the axle's travel through the joint instead.",
    ),
    "slip-bottomed": CauseWords(
        "slip bottomed",
        "the slip bottomed out",
        "With no travel left the shaft becomes a ram between case and axle.",
    ),
    "slip-pulled-out": CauseWords(
        "slip pulled out too far",
        "the slip was pulled out too far",
        "With little spline left in, it rocks, wears and in the end comes apart.",
    ),
    "too-much-bend": CauseWords(
        "runs at too much bend",
        "it runs at too much bend every day",
        "At that angle and speed the needles sweep too far and too fast.",
    ),
    "too-little-bend": CauseWords(
        "runs too straight",
        "it runs too straight",
        "The needles do not roll; they hammer one spot until it is a row of lines.",
    ),
    "old-age": CauseWords(
        "old age",
        "it was old age",
        "Wear is even on all four trunnions and nothing else is wrong.",
    ),
    "imbalance": CauseWords(
        "the shaft shook",
        "the shaft shook it loose",
        "A bent tube, a lost weight or run-out works every part once a turn.",
    ),
    "head-past-its-angle": CauseWords(
        "head bent past its ball",
        "the double-Cardan head went past its angle",
        "The ball ran out of room in its socket and broke.",
    ),
    "struck": CauseWords(
        "tube hit something",
        "the tube hit a rock or a part of the truck",
        "A dent takes the strength out of a tube; the next pull twists it.",
    ),
}
"""Common practice, no source."""


BANDS: Final[Mapping[Band, str]] = {
    "very-likely": "very likely",
    "likely": "likely",
    "possible": "possible",
    "unlikely": "unlikely, but not ruled out",
    "hardly": "hardly",
}
"""How likely a cause is, in a word; none is for certain."""


SUREST: Final = 0.95
"""Beyond this no chance is told as a number or drawn, nor under what is ruled out: strengths are
known to a word, from which nobody tells one joint in twenty from one in a hundred."""


def percent(chance: float) -> str:
    """A chance as a number, as far as it is known at all."""
    if chance > SUREST:
        return f"over {100.0 * SUREST:.0f} %"
    if chance < NOT_RULED_OUT:
        return f"under {100.0 * NOT_RULED_OUT:.0f} %"
    return f"{100.0 * chance:.0f} %"


def bar_length(chance: float) -> float:
    """Share of its room that the bar of a chance takes."""
    return min(chance, SUREST)


def chance_words(chance: float) -> str:
    """``likely (82 %)``."""
    return f"{BANDS[band(chance)]} ({percent(chance)})"
