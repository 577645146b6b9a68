"""What would cure a shaft, in sentences: for the text, and for the window."""

from collections.abc import Iterable, Iterator, Sequence
from math import degrees, isfinite

from sim.around.surroundings import SurroundingGap
from sim.assessment import Assessment
from sim.cures import Cure, Cures
from sim.findings import Finding, Verdict
from sim.remark import Remark
from sim.rig import Rig
from sim.vehicle import Joint
from viewer.words.bars import works_for
from viewer.words.findings import finding_lines, says
from viewer.words.remarks import said
from viewer.words.sentence import small
from viewer.words.units import (
    format_angle,
    format_fraction,
    format_length,
    format_length_under,
    left_fraction,
)
from viewer.words.verbs import agreeing
from viewer.words.verdicts import verdict_word

LITTLE_ELSE = "next to none"
"""What a remedy costs that costs nothing worth telling."""

ROOM_ONLY = "All of this is about room. For torque, speed and shake see the build ticket"
"""Without its stop: on the command line the command follows."""

ROOM_ONLY_HERE = f"{ROOM_ONLY}: `bindpoint build` on the saved rig."

SURROUNDINGS_AFTER = (
    "How much of each it takes is found for the joints, the slip and the reach. What sits near the "
    "shaft is checked after that. Nothing counts as a cure while the shaft still hits something."
)

UNKNOWN = "-"
"""Where a pose cannot be reached, so that nothing is known of the joint in it."""

NO_NEED = "Nothing touches and there is the room you wanted. It needs no cure."

NOT_FOR_THEM = "Joints and slip have the room you wanted. They need no cure."

WITHIN_READINGS = "What keeps the travel within what was measured, cheapest first:"

_GETS_THERE: dict[Verdict, str] = {
    "clear": "What fixes it with the room you wanted, cheapest first:",
    "close": "What fixes it with less room than you wanted, cheapest first:",
}

ON_SOME = "Fixes it as measured, but not on every truck that measures like this one"
"""Without its stop: what leaves too many trucks that still touch."""

_NOTHING_DOES: dict[Verdict, str] = {
    "clear": "Nothing that was tried gives the room you wanted.",
    "close": "Nothing that was tried fixes it.",
}


def cures_lead(found: Cures) -> str:
    """What the list is a list of."""
    if found.before.verdict == "clear":
        return NOT_FOR_THEM if found.near or found.beside else NO_NEED
    working = any(cure.works for cure in found.cures)
    if working and not any(cure.holds for cure in found.cures):
        return f"{ON_SOME}, cheapest first:"
    if found.before.held == "clear":
        return WITHIN_READINGS if working else _NOTHING_DOES[found.goal]
    return (_GETS_THERE if working else _NOTHING_DOES)[found.goal]


def cure_says(cure: Cure) -> list[str]:
    """What to do, a sentence for each remedy."""
    return [f"{says}." for says in map(said, cure.says)]


def cure_sure(cure: Cure) -> str:
    """On how many trucks it works, where those are not next to all; "" else."""
    if cure.chance is None or cure.holds or not cure.works:
        return ""
    return f"Works on {works_for(cure.chance)} that measure like this one."


def cure_price(cure: Cure) -> str:
    """What else it does."""
    costs = dict.fromkeys(said(cost) for costs in cure.costs for cost in costs)
    first, *more = [*costs, *map(said, cure.worse)] or [LITTLE_ELSE]
    return " ".join([f"Downside: {first}.", *(f"{each[0].upper()}{each[1:]}." for each in more)])


def cost_words(costs: Iterable[Remark]) -> str:
    """What else one remedy takes."""
    return "; ".join(map(said, costs)) or LITTLE_ELSE


def cure_rests(cure: Cure) -> str:
    """What it rests on that was not read; "" for nothing."""
    after = cure.after
    return f"Rests on what was not measured: {beyond_words(after)}." if after.beyond > 0.0 else ""


def remedy_name(code: str) -> str:
    """What a remedy is called, in words."""
    return code.replace("-", " ")


def cured_note(found: Cures, cure: Cure) -> str:
    """What the cured rig says of itself."""
    note = f"{found.rig.note} " if found.rig.note else ""
    return f"{note}Cured on paper, not built yet: {'; '.join(map(said, cure.says))}."


def near_as_it_is(found: Cures) -> str:
    """What is short of its clearance as the rig is; "" for nothing."""
    words = _near(found.near, found.rig)
    near = f"As it is, {words}.{_what_clears(found)}" if words else ""
    return " ".join(filter(None, (near, *(_beside(found, each) for each in found.beside))))


def _beside(found: Cures, finding: Finding) -> str:
    """What stops the shaft as it is, and whether a cure does away with it."""
    rid = [
        number
        for number, cure in enumerate(found.cures, start=1)
        if finding.code not in {each.code for each in cure.beside}
    ]
    which = _rid_of_by(rid) or NONE
    return f"{says(finding)} {which[0].upper()}{which[1:]}."


def _what_clears(found: Cures) -> str:
    """Which cures take the shaft clear of what it hits as it is; "" where it hits nothing."""
    hit = set(_hit(found.near))
    if not hit:
        return ""
    clears = [
        number
        for number, cure in enumerate(found.cures, start=1)
        if cure.works and not hit & set(_hit(cure.near))
    ]
    which = _rid_of_by(clears)
    if not which:
        return f" {NONE}: move what is in the way."
    return f" No cure was sized for that, but {which}."


def _rid_of_by(numbers: Sequence[int]) -> str:
    """Which cures do away with something that none was looked for; "" for none."""
    if not numbers:
        return ""
    many = len(numbers) > 1
    which = (
        f"numbers {_listed([*map(str, numbers)])} take" if many else f"number {numbers[0]} takes"
    )
    return f"{which} care of it"


NONE = "No cure here takes care of that"


def _listed(names: Sequence[str]) -> str:
    """Several, as said."""
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last


def travel_kept(found: Cures) -> str:
    """The best that gives up no travel, where what comes first does; "" where that is the same."""
    first = found.cures[0] if found.cures else None
    if first is None or not (first.works and first.takes_travel):
        return ""
    place = found.all_travel_kept
    if place is None:
        return "Nothing that was tried gets there without giving up travel."
    cure = found.cures[place]
    ends = "" if cure.works else f": it ends {verdict_word('close').lower()}, {_tightest(cure)}"
    return f"The best that keeps all of the travel is number {place + 1}{ends}."


def _tightest(cure: Cure) -> str:
    """What is short of the room that was wanted, in words."""
    after, short = cure.after, []
    for joint, words in margin_cells(after):
        if after.margins[joint] < after.reserve:
            short.append(f"{words} left at the {joint} joint, {format_angle(after.reserve)} wanted")
    for left, way in ((after.closes_left, "to close"), (after.opens_left, "to open")):
        if left < after.slip_reserve:
            wanted = format_fraction(after.slip_reserve)
            short.append(f"{left_words(left)} of slip left {way}, {wanted} wanted")
    short += [f"less gap at the {joint} joint than wanted" for joint in after.tight]
    return "; ".join(short)


def ruled_out(found: Cures) -> str:
    """What was not tried because the owner does not want it; "" for nothing."""
    names = ", ".join(remedy_name(code) for code in found.without)
    return f"Ruled out, so not tried: {names}." if names else ""


def cure_near(cure: Cure) -> str:
    """What is short of its clearance with the cure; "" for nothing."""
    words = _near(cure.near, cure.rig)
    return f"Near the shaft: {words}." if words else ""


def _hit(near: Sequence[SurroundingGap]) -> list[str]:
    return [gap.name for gap in near if gap.touches]


def _hits(gap: SurroundingGap) -> str:
    return f"the {gap.part} {agreeing(gap.part, 'hits', 'hit')} the {gap.name}"


def _near(gaps: Sequence[SurroundingGap], rig: Rig) -> str:
    wanted = rig.wanted.clearance.mm
    return "; ".join(
        _hits(gap)
        if gap.touches
        else f"the {gap.part} {agreeing(gap.part, 'comes', 'come')} within "
        f"{format_length_under(gap.sure_mm, wanted)} of the {gap.name}, "
        f"{format_length(wanted)} wanted"
        for gap in gaps
    )


def useless_words(found: Cures) -> str:
    """What was tried in vain; "" for nothing."""
    useless = ", ".join(remedy_name(code) for code in found.useless)
    return f"Tried, no help here: {useless}." if useless else ""


def read_further(found: Cures) -> str:
    """What to read of the suspension before anything is bought; "" where all of it was."""
    before, travel = found.before, found.rig.travel
    if before.beyond <= 0.0:
        return ""
    ends = ((before.below, travel.droop.mm, "droop"), (before.above, travel.bump.mm, "bump"))
    to = " and ".join(f"{format_length(goes)} of {way}" for beyond, goes, way in ends if beyond > 0)
    return (
        f"The suspension was not measured over {beyond_words(before)}. There the axle is taken to "
        f"go straight on. Measure it at {to} too: that tells whether there is anything to cure."
    )


def beyond_words(outcome: Assessment) -> str:
    """How far the travel goes beyond the readings, in words."""
    ends = ((outcome.below, "droop"), (outcome.above, "bump"))
    return " and ".join(f"the last {format_length(mm)} of {way}" for mm, way in ends if mm > 0.0)


def outcome_word(outcome: Assessment, has: Cure | Cures) -> str:
    """The verdict with what is near the shaft, and why where no number shows it."""
    whys = [f"the {name}" for name in _hit(has.near)]
    whys += [small(finding_lines(each)[0]) for each in has.beside]
    if whys:
        return f"{verdict_word('touches')} ({' and '.join(whys)})"
    word = plain_word(outcome)
    return f"{word} (gap at the {' and '.join(outcome.tight)})" if outcome.tight else word


def plain_word(outcome: Assessment) -> str:
    """The verdict of joints, slip and reach in one word."""
    metal = not outcome.reaches or any(margin <= 0.0 for margin in outcome.margins.values())
    return verdict_word(outcome.verdict, metal)


def why_words(cure: Cure) -> str:
    """What no number of the table shows of a verdict; "" for nothing."""
    whys = [_hits(gap) for gap in cure.near if gap.touches]
    whys += [small(finding_lines(each)[0]) for each in cure.beside]
    whys += [f"the {joint} joint has less gap than wanted" for joint in cure.after.tight]
    return "; ".join(whys)


def margin_cells(outcome: Assessment) -> Iterator[tuple[Joint, str]]:
    """What is left at each joint, deg."""
    for joint, margin in outcome.margins.items():
        yield joint, f"{degrees(margin):.1f} deg" if isfinite(margin) else UNKNOWN


def left_words(mm: float) -> str:
    """What is left of something that can run short, as a fraction of an inch; `inf` is unknown."""
    return left_fraction(mm) if isfinite(mm) else UNKNOWN


SURE_COLUMN = " Sure: how many of 100 trucks that measure like this one stay clear with it."


def table_rule(found: Cures) -> str:
    """How the table of cures is to be read."""
    by = found.weights
    return (
        "Joint and slip columns (closes, opens): what is left over the whole travel. Shake: from "
        "which speed it is felt at ride height. Price, which sets the order: parts + "
        f"{by.hour:g} x hours + {by.travel:g} x share of travel given up. One unit is about the "
        f"cost of a set of straps ({by.source}). Use your own with --weights."
        f"{'' if found.chance is None else SURE_COLUMN}"
    )
