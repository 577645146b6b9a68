"""The first page of a check: what is said first, in the order in which it is said.

Text, window and sheet all show this; the rest of an answer stands below it or under `--full`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import isfinite, radians
from typing import Final

from sim.check import Check
from sim.cures.first_cure import FirstCure
from sim.findings import Finding
from sim.generic_throats import generic_throats, tightest
from sim.rig import Rig
from sim.rig.typed_joints import GenericParts, generic_parts
from sim.ticket.drive_said import drive_said
from sim.ticket.felt_of import felt_of
from sim.turning_over import TurningOver
from sim.vehicle import Pose
from viewer.words.bars import works_for
from viewer.words.bench import fitted_says
from viewer.words.cure_names import remedy_called
from viewer.words.findings import finding_lines
from viewer.words.lines import WIDTH, item
from viewer.words.meeting import hits_words
from viewer.words.poses import travel_words, ways
from viewer.words.remarks import said
from viewer.words.turning import GENERIC, NOTHING_TURNS, most_words, turn_line
from viewer.words.units import format_fraction, format_fraction_up, left_degrees, road
from viewer.words.verdicts import check_word, verdict_word

MOST_LINES: Final = 12
"""Printed lines of the page."""

MOST_WORDS: Final = 80
"""Words that are read aloud in half a minute, 160 a minute (from memory)."""

WHOLE: Final = 3
"""Findings beside the first that are told in a sentence each; more are only named."""

LEAST_TURNS: Final = 3
"""Lines on what to measure first that stand however long the page gets."""

CAUTION: Final = "Geometry only: turn it by hand before you drive."

MEASURE: Final = "Measure first:"

USUAL_ASK: Final = "bindpoint cures my-truck.toml"

USUAL_MORE: Final = "More: --full"
"""What is printed beside the page, for its length."""


@dataclass(frozen=True)
class FirstPage:
    """What is said first, a sentence or two each.

    Attributes
    ----------
    rig : its name.
    word, says : the verdict in a word and in a sentence.
    meets : what meets and how much is missing, worst first; else what comes nearest.
    slip : what is left of it that was not told yet; "" for nothing.
    shake : from which road speed it is felt, where the truck goes that fast; "" else.
    fix : what to do first, where that is known; "" where there is nothing to do.
    unfixed : whether something is to be done and nobody has looked for it yet.
    measure : what to measure first, since it could turn the verdict over.
    steady, most : what is said where nothing does, and what comes nearest to it, both without
        their stops; "" where nothing was tried yet. generic : what to measure even so.
    """

    rig: str
    word: str
    says: str
    meets: tuple[str, ...]
    slip: str
    shake: str = ""
    fix: str = ""
    unfixed: bool = False
    measure: tuple[str, ...] = ()
    steady: str = ""
    most: str = ""
    generic: str = ""


def first_page(
    result: Check, told: TurningOver | None = None, cure: FirstCure | None = None
) -> FirstPage:
    """The first page of a check.

    told : what nobody gave and what turns the verdict over, once it was tried.
    cure : the first of the cures, once somebody has looked for them.
    """
    says, *meets = _told(result)
    needed = result.verdict != "clear"
    page = FirstPage(
        result.rig.name,
        check_word(result),
        says,
        (*meets, *_fights(result)),
        _slip(result),
        _shake(result.rig),
        _fix(cure) if needed and cure is not None else "",
        needed and cure is None,
    )
    if told is None:
        return page
    if told.turns:
        # That the slip wants to be measured is said on its own line.
        lines = (turn_line(turn) for turn in told.turns if not turn.key.startswith("shaft.slip."))
        return shortened(replace(page, measure=tuple(lines)))
    joint = tightest(result.found)
    generic = GENERIC if generic_throats(result.rig, joint) else ""
    if result.joints[joint].hardware.fitted:
        generic = fitted_says(joint)
    return shortened(replace(page, steady=NOTHING_TURNS, most=most_words(told), generic=generic))


def _fights(result: Check) -> Iterator[str]:
    """Bench readings that do not count, so that nobody thinks they do."""
    for found in result.joints.values():
        for note in found.hardware.notes:
            if note.code in ("readings-fight", "yoke-fight", "readings-none"):
                words = said(note)
                yield f"{words[:1].upper()}{words[1:]}."


def page_lines(page: FirstPage, ask: str = "", more: str = "") -> list[str]:
    """The page as it is printed, within `MOST_LINES`.

    ask : what to type to look for cures. more : where the rest is.
    """
    return list(_printed(shortened(page, ask, more), ask, more))


def shortened(page: FirstPage, ask: str = USUAL_ASK, more: str = USUAL_MORE) -> FirstPage:
    """The page without what it is too long for, so that a window says what is printed."""
    for shorter in (page, *_shorter(page)):
        lines = list(_printed(shorter, ask, more))
        if len(lines) <= MOST_LINES and _words(lines) <= MOST_WORDS:
            return shorter
    return shorter


def _shorter(page: FirstPage) -> Iterator[FirstPage]:
    """The page with less and less of what can be left out."""
    yield replace(page, most="")
    bare = replace(page, most="", shake="")
    yield bare
    if page.generic:  # what to measure says more than that nothing else matters
        yield replace(bare, steady="")
    for count in range(len(page.measure) - 1, LEAST_TURNS - 1, -1):
        yield replace(bare, measure=page.measure[:count])


def below_verdict(page: FirstPage, ask: str = "") -> Iterator[str]:
    """The lines below the verdict, not yet broken; what belongs under another begins with blanks.

    ask : what to type to look for cures; "" where a button asks.
    """
    yield from page.meets
    if page.slip:
        yield page.slip
    if page.shake:
        yield page.shake
    if page.fix:
        yield page.fix
    elif page.unfixed and ask:
        yield f"What would fix it: {ask}"
    if len(page.measure) > 1:
        yield MEASURE
        yield from (f"  {each}" for each in page.measure)
    elif page.measure:
        yield f"{MEASURE} {page.measure[0]}."
    if page.steady or page.generic:
        steady = "; ".join(filter(None, (page.steady, page.most)))
        yield f"{steady}. {page.generic}".strip() if steady else page.generic


def _printed(page: FirstPage, ask: str, more: str) -> Iterator[str]:
    yield page.rig if len(page.rig) <= WIDTH else f"{page.rig[: WIDTH - 3]}..."
    yield from item(f"{page.word}  {page.says}")
    for each in below_verdict(page, ask):
        yield from item(each)
    yield from item(f"{CAUTION} {more}".strip())


def _words(lines: list[str]) -> int:
    return sum(any(map(str.isalnum, word)) for line in lines for word in line.split())


def _told(result: Check) -> Iterator[str]:
    """The verdict in a sentence, what meets and how much is missing, and what else stops it."""
    if result.verdict == "clear":
        found = result.joints[result.tightest]
        left, at = left_degrees(found.margin), _where(result, found.where)
        yield "Nothing hits anywhere in the travel."
        whose = _whose(found.hardware.fitted, generic_parts(result.rig, result.tightest))
        yield f"Tightest: {result.tightest} joint{whose}, {left} deg left at {at}."
        return
    first, *others = _telling(result)
    says, far = _apart(result, first)
    if result.verdict == "close":
        yield "Nothing hits, but it is tighter than wanted."
        usual = _usual(result, first)
        yield f"{says}: {far}{usual}." if far else f"{says}{usual}."
    else:
        yield f"{says}."
        if far:
            yield f"{far[:1].upper()}{far[1:]}."
    too = _too if len(others) <= WHOLE else _named
    if others:
        yield " ".join(dict.fromkeys(too(result, each) for each in others))


def _telling(result: Check) -> list[Finding]:
    """The findings that make the verdict, but for what another one says.

    What meets comes before a slip that fails. That it cannot be turned at ride height is said with
    the joint that stops it.
    """
    telling = [each for each in result.findings if each.verdict == result.verdict]
    if result.verdict == "touches":
        telling.sort(key=lambda each: each.code in _OF_THE_SLIP)
    joints = {each.subject for each in telling if each.code == "joint-bend"}
    others = (
        each
        for each in telling[1:]
        if not (each.code == "turns-at-ride" and each.detail["joint"] in joints)
    )
    return [telling[0], *others]


_OF_THE_SLIP: Final = frozenset({"slip-closes", "slip-opens", "slip-comes-apart"})
"""Ways a slip fails; what is told of them is not told again on the line of the slip."""


def _apart(result: Check, finding: Finding) -> tuple[str, str]:
    """What is found and where; then by how much, without their stops."""
    if _binds(finding):
        start, worst = finding.detail["first"] or finding.at or Pose(), finding.at or Pose()
        meets = hits_words(finding.detail["surfaces"], finding.detail["bodies"])
        far = f"{_far(finding)} deg too far at {_height(result, worst.travel)}"
        return f"{_joint(finding)} binds at {_where(result, start)}", f"{meets}, {far}"
    first, rest = finding_lines(finding)
    besides = "".join(f", {way}" for way in ways(finding.at or Pose()))
    if rest.startswith(("at ", "as ")):
        return f"{first} {rest}", ""
    if finding.verdict == "touches" and finding.code in _OF_THE_SLIP:
        return f"{first}{besides}", rest
    if besides and " at " in first and rest.endswith(besides):  # how it stands goes with where
        return f"{first}{besides}", rest.removesuffix(besides)
    return first, rest


def _too(result: Check, finding: Finding) -> str:
    """One that is not the first, in one sentence."""
    if _binds(finding):
        return f"{_joint(finding)} binds too, by {_far(finding)} deg."
    if finding.code in _BEGINS and finding.verdict == "touches":
        start, worst = finding.detail["first"] or finding.at or Pose(), finding.at or Pose()
        short = f"{format_fraction_up(-finding.margin.value)} short"
        at, far = _where(result, start), _height(result, worst.travel)
        return f"Slip {_BEGINS[finding.code]} at {at}, {short} at {far}."
    says, far = _apart(result, finding)
    if finding.code == "surroundings" and finding.verdict == "touches":
        return f"{says.replace(' at ', ' too, at ', 1)}."
    return f"{says}: {far}." if far else f"{says}."


def _named(result: Check, finding: Finding) -> str:
    """One of many, in as few words as name it."""
    if _binds(finding) or finding.code in _BEGINS:
        return _too(result, finding)
    return f"{finding_lines(finding)[0]}."


_BEGINS: Final = {"slip-closes": "bottoms", "slip-opens": "runs out"}


def _usual(result: Check, finding: Finding) -> str:
    """The reserve that it is short of, where nobody said how much is wanted."""
    key = _RESERVE.get(finding.code, "")
    if key not in {each.key for each in result.rig.assumed}:
        return ""
    wanted = getattr(result.rig.wanted, key.removeprefix("wanted."))
    much = f"{wanted.deg:g} deg" if key == "wanted.bend" else format_fraction(wanted.mm)
    return f", {much} wanted (usual reserve)"


_RESERVE: Final = {
    "joint-bend": "wanted.bend",
    "joint-gap": "wanted.gap",
    "surroundings": "wanted.clearance",
    "slip-closes": "wanted.slip",
    "slip-opens": "wanted.slip",
}
"""Which reserve a finding is held to."""


def _binds(finding: Finding) -> bool:
    return finding.code == "joint-bend" and finding.verdict == "touches"


def _joint(finding: Finding) -> str:
    """A joint to begin a sentence with; whether its parts stand in for what nobody named."""
    detail = finding.detail
    whose = _whose(detail.get("fitted", False), detail.get("generic"))
    return f"{finding.subject.capitalize()} joint{whose}"


def _whose(fitted: bool, generic: GenericParts | None) -> str:
    """Behind a joint whose parts are not its own: what they are."""
    return " (fitted)" if fitted else " (generic)" if generic else ""


def _far(finding: Finding) -> str:
    return left_degrees(radians(finding.margin.value))


def _where(result: Check, at: Pose) -> str:
    return ", ".join([_height(result, at.travel), *ways(at)])


def _height(result: Check, travel: float) -> str:
    """Axle height; the ends of the travel by name."""
    region = result.derivation.vehicle.travel
    for end, word in ((region.low[0], "full droop"), (region.high[0], "full bump")):
        if travel and abs(travel - end) < AT_END:
            return word
    return travel_words(travel)


AT_END: Final = 0.1
"""mm. Nearer to an end of the travel than anybody measures."""


def _slip(result: Check) -> str:
    """What is left of the slip, or what the travel takes of one that nobody measured."""
    moved, wanted = result.found.swept.slip, result.rig.wanted.slip.mm
    sides = (
        ("close", moved.closes_left, -moved.shortest.value),
        ("open", moved.opens_left, moved.longest.value),
    )
    left = {way: mm for way, mm, _ in sides if isfinite(mm)}
    takes = {way: moves for way, mm, moves in sides if not isfinite(mm) and isfinite(moves)}
    told = {each.code for each in _telling(result)} if result.verdict != "clear" else set()
    untold = {way: mm for way, mm in left.items() if _SIDE[way] not in told}
    said = []
    least = min(left.values(), default=0.0)
    if len(left) == len(sides) and least >= wanted:
        said.append(f"{format_fraction(least)} to spare.")
    elif left:
        apart = moved.apart_left is not None and not moved.apart_left > 0.0
        nearest = min(untold.values(), default=0.0)
        asked = f", {format_fraction(wanted)} wanted" if 0.0 < nearest < wanted else ""
        more = ", and it comes apart" if apart and "slip-comes-apart" not in told else asked
        if untold:
            sides_left = (f"{_left(mm)} to {way}" for way, mm in untold.items())
            said.append(f"{', '.join(sides_left)}{more}.")
    if takes:
        each = (f"{format_fraction_up(max(0.0, mm))} to {way}" for way, mm in takes.items())
        measure = "Measure" if said else "measure"
        said.append(f"{measure} it; the travel takes {', '.join(each)}.")
    if said:
        return f"Slip: {' '.join(said)}"
    return "" if left else "Slip: not known."


_SIDE: Final = {"close": "slip-closes", "open": "slip-opens"}


def _shake(rig: Rig) -> str:
    """From which road speed the joints' shake is felt, where that is below top speed."""
    top = drive_said(rig).numbers.get("top_speed")
    on_road = felt_of(rig).road if rig.axle.hubs != "unlock" else None
    if top is None or on_road is None or on_road >= top:
        return ""
    return f"Shake: felt above {road(on_road).partition(' (')[0]}."


def _left(mm: float) -> str:
    return f"{format_fraction(mm)} left" if mm >= 0.0 else f"{format_fraction_up(-mm)} short"


def _fix(cure: FirstCure) -> str:
    """The cheapest cure by name."""
    if not cure.says:
        return "Fix: nothing that was tried is enough."
    name = " + ".join(map(remedy_called, cure.says))
    ends = "" if cure.verdict == "clear" else f", which leaves it {verdict_word(cure.verdict)}"
    some = "" if cure.chance is None else f", on {works_for(cure.chance)}"
    return f"Fix: {name}{ends}{some}."
