"""The verdict of a check: in a word, in a headline, and where binding starts."""

from math import isfinite

from sim.check import Check
from sim.findings import Code, Verdict
from sim.rig.typed_joints import generic_parts
from viewer.words.poses import pose_words
from viewer.words.units import format_length, format_missing

CAUTION = (
    "A geometry estimate from the numbers given; it certifies nothing. Turn the shaft by hand "
    "through the whole travel before driving. Chock the wheels, use rated stands, never a jack "
    "alone. Follow local codes and licensed practice."
)


VERDICT_WORDS: dict[Verdict, str] = {
    "clear": "CLEAR",
    "close": "CLOSE",
    "touches": "TOUCHES",
}


RUNS_OUT = "RUNS OUT"
"""Instead of TOUCHES where no metal meets but the slip has no more to give."""


NOT_MEASURED = "not measured"
"""Of a slip that nobody measured, in place of what is left of it."""


_STOPS: tuple[tuple[str, frozenset[Code]], ...] = (
    ("Metal meets within the travel.", frozenset({"joint-bend", "joint-gap", "turns-at-ride"})),
    ("The shaft hits something near it.", frozenset({"surroundings"})),
    ("The slip runs out.", frozenset({"slip-closes", "slip-opens", "slip-comes-apart"})),
    ("No slip fits between the yokes.", frozenset({"no-room-for-slip"})),
    ("Some of the travel cannot be reached as described.", frozenset({"out-of-reach"})),
)
"""What stops a shaft, by the codes of the findings that say so."""


def verdict_word(verdict: Verdict, metal: bool = True) -> str:
    """One word for a verdict. metal : whether metal meets, rather than the slip running out."""
    return VERDICT_WORDS[verdict] if metal or verdict != "touches" else RUNS_OUT


def check_word(result: Check) -> str:
    """One word for a whole check."""
    stops = [each.code for each in result.findings if each.verdict == "touches"]
    return verdict_word(result.verdict, not all(code.startswith("slip-") for code in stops))


def headline(result: Check) -> str:
    """The verdict in a few words, and what of the shaft nobody told."""
    measured = result.found.swept.slip.has.measured
    if result.verdict == "clear":
        slip = " and the slip does not run out" if measured else ""
        said = [f"Nothing touches{slip} anywhere in the travel."]
    elif result.verdict == "close":
        said = ["Nothing touches, but it is tighter than wanted."]
    else:
        stops = {finding.code for finding in result.findings if finding.verdict == "touches"}
        said = [words for words, codes in _STOPS if stops & codes]
    if any(generic_parts(result.rig, joint) for joint in result.joints):
        said.append("Generic joints stand in where none were named.")
    if not measured:
        said.append("Nobody measured the slip.")
    return " ".join(said)


def first_contact_words(result: Check) -> str | None:
    """How far down (or up) the axle goes until a joint first touches; None where it never does."""
    for way, move in ((result.found.down, "going down"), (result.found.up, "going up")):
        if way.first is not None:
            level = [row.contact for row in way.by_wrap if row.roll == 0.0 and row.wrap == 0.0]
            line = (
                f"First contact {move} from ride height: {way.first.joint} joint at "
                f"{pose_words(way.first.at)}"
            )
            if level and level[0] is not None and level[0].at != way.first.at:
                line += f"; level, with no wrap, at {pose_words(level[0].at)}"
            return f"{line}."
    return None


AT_END = 1e-3
"""mm. A slip with less left, or less short, is at the end of its stroke: a drive stops there."""


def nothing_left(way: str) -> str:
    """What is said of a slip at the end of its stroke, which can `way` ("open") no more."""
    return f"nothing left to {way}"


def slip_left_words(mm: float) -> str:
    """What is left of a slip one way, or how much it is short; `inf` where nobody measured it."""
    if not isfinite(mm):
        return NOT_MEASURED
    if abs(mm) <= AT_END:
        return "nothing left"
    return f"{format_length(mm)} left" if mm >= 0.0 else f"{format_missing(-mm)} short"
