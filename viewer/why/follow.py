"""Why a joint broke or wore, as the window shows it: computed elsewhere, and plain to send."""

from dataclasses import dataclass
from pathlib import Path

from sim.assessment import Assessment, Assessor
from sim.causes import CauseCode, SeenCode
from sim.progress import Progress
from sim.rig import Rig
from sim.seen import demand_joint, parse_inspection
from sim.why.case import Case
from sim.why.why import weigh
from viewer.why.told import told_of
from viewer.words.causes import CAUSES, chance_words
from viewer.words.signs import SIGN_WORDS

MOST_NEXT = 3
"""Things to look at next that are told."""


@dataclass(frozen=True)
class CauseTold:
    """One cause that is not ruled out.

    Attributes
    ----------
    name : in a list. chance : 0 to 1. says : that chance, in words and as a number.
    lines : what speaks for it, against it, and what was not looked at.
    """

    code: CauseCode
    name: str
    chance: float
    says: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class NextTold:
    """Something to look at next: the question, and with which tool."""

    sign: SeenCode
    asks: str
    tool: str


@dataclass(frozen=True)
class WhyTold:
    """The whole answer.

    Attributes
    ----------
    of : texts of the inspection and of the rig that it is the answer to.
    counter : what one says at the counter, a line or two each. causes : the likeliest first.
    next : what would settle most. rest : titles with what stands under them.
    caution : how far it goes.
    """

    of: tuple[str, str]
    counter: tuple[str, ...]
    causes: tuple[CauseTold, ...]
    next: tuple[NextTold, ...]
    rest: tuple[tuple[str, tuple[str, ...]], ...]
    caution: str


def answer_of(rig: Rig, text: str, seen: str, tell: Progress) -> WhyTold:
    """Weigh the text of an inspection of a rig, which has that text itself.

    Raises BindpointError where that cannot be.
    """
    inspection = parse_inspection(seen)
    demand_joint(inspection, rig)
    found = _assessed(rig, text)
    why = weigh(Case(found, inspection.joint or "pinion"), inspection, tell)
    told = told_of(why)
    count = len(why.not_ruled_out)
    causes = tuple(
        CauseTold(
            each.code, CAUSES[each.code].name, each.chance, chance_words(each.chance), part.entries
        )
        for each, part in zip(why.not_ruled_out, told.detail[:count], strict=True)
    )
    asks = tuple(
        NextTold(each.sign, SIGN_WORDS[each.sign].asks, SIGN_WORDS[each.sign].tool)
        for each in why.next[:MOST_NEXT]
    )
    rest = tuple((part.title, part.entries) for part in told.detail[count:])
    return WhyTold((seen, text), told.counter, causes, asks, rest, told.caution)


_known: dict[tuple[str, Path], Assessment] = {}
"""The last that was assessed, by its text and its folder."""


def _assessed(rig: Rig, text: str) -> Assessment:
    """What a rig comes to, which stays the same however its joint is ticked."""
    key = text, rig.folder
    if key not in _known:
        found = Assessor().assess(rig)
        _known.clear()
        _known[key] = found
    return _known[key]
