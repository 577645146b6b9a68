"""Why a joint broke or wore, as the window shows it: computed elsewhere, and plain to send."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sim.assessment import Assessor
from sim.causes import CauseCode, SeenCode
from sim.cocked import Cocked, Corner, CrossAt, PressureMap
from sim.marks import Mark
from sim.progress import Progress
from sim.rig import Rig
from sim.seen import demand_joint, parse_inspection
from sim.seen.words import CapName
from sim.vehicle import Joint
from sim.why.case import Case
from sim.why.why import Why, weigh
from viewer.why.confirmed import settled_joints
from viewer.why.counter import astray
from viewer.why.told import told_of, weighed_lines
from viewer.words.causes import CAUSES, chance_words
from viewer.words.remarks import said
from viewer.words.sentence import capital
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


@dataclass(frozen=True, eq=False)
class TrunnionTold:
    """The pressure on one trunnion at the everyday torque, and its corners that stand out."""

    cap: CapName
    at: CrossAt
    map: PressureMap
    corners: tuple[Corner, ...]


@dataclass(frozen=True)
class WhyTold:
    """The whole answer.

    Attributes
    ----------
    of : texts of the inspection and of the rig that it is the answer to.
    counter : what one says at the counter, a line or two each. causes : the likeliest first.
    next : what would settle most. rest : titles with what stands under them.
    caution : how far it goes.
    marks : where the metal meets if the axle is forced through its travel, the deepest first; none
        where it never meets there. meets : where and from when, or that it never does.
    strays : that marks which were seen lie elsewhere; "" where none does. The counter says it too.
    trunnions : the pressure on each.
    """

    of: tuple[str, str]
    counter: tuple[str, ...]
    causes: tuple[CauseTold, ...]
    next: tuple[NextTold, ...]
    rest: tuple[tuple[str, tuple[str, ...]], ...]
    caution: str
    marks: tuple[Mark, ...] = ()
    meets: str = ""
    strays: str = ""
    trunnions: tuple[TrunnionTold, ...] = ()


def answer_of(rig: Rig, text: str, name: str, seen: str, tell: Progress) -> WhyTold:
    """Weigh the text of an inspection of a rig, which has a text itself, and a name to type.

    Raises BindpointError where that cannot be.
    """
    inspection = parse_inspection(seen)
    demand_joint(inspection, rig)
    case = _case(rig, text, inspection.joint or "pinion")
    why = weigh(case, inspection, settled_joints(None), tell)
    told = told_of(why, name)
    causes = tuple(
        CauseTold(
            each.code,
            CAUSES[each.code].name,
            each.chance,
            chance_words(each.chance),
            tuple(weighed_lines(why, each)),
        )
        for each in why.not_ruled_out
    )
    # Several signs may hang on one question.
    first: dict[str, SeenCode] = {}
    for each in why.next:
        first.setdefault(SIGN_WORDS[each.sign].asks, each.sign)
    asks = tuple(NextTold(sign, says, SIGN_WORDS[sign].tool) for says, sign in first.items())
    asks = asks[:MOST_NEXT]
    own = {each.lines for each in causes}
    rest = tuple((part.title, part.entries) for part in told.detail if part.entries not in own)
    marks = why.asked.marks
    return WhyTold(
        (seen, text),
        told.counter,
        causes,
        asks,
        rest,
        told.caution,
        () if marks is None or not why.asked.reached else marks.forced,
        _meets(why),
        " ".join(astray(why)),
        tuple(_trunnions(why.asked.cocked)),
    )


def _trunnions(cocked: Cocked) -> Iterator[TrunnionTold]:
    for cap, found in cocked.caps.items():
        yield TrunnionTold(cap, cocked.at, found.map, found.corners)


def _meets(why: Why) -> str:
    """Whether the joint binds in this travel, and from where."""
    found = why.computed_of("touches-in-reach")
    return "" if found is None else f"{capital(said(found.why))}."


_known: dict[tuple[str, Path, Joint], Case] = {}
"""The last joint that was asked about, by text and folder of its rig."""


def _case(rig: Rig, text: str, joint: Joint) -> Case:
    """What a rig comes to, which stays the same however its joint is ticked."""
    key = text, rig.folder, joint
    if key not in _known:
        found = Case(Assessor().assess(rig), joint)
        _known.clear()
        _known[key] = found
    return _known[key]
