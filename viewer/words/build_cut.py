"""The build ticket in words: what to cut, what a tape reads, how the slip is set."""

from collections.abc import Iterator

from sim.ticket.cut_list import Cut
from sim.ticket.slip_plan import SIXTEENTH, SlipPlan, Split
from sim.ticket.ticket import Ticket
from viewer.words.build import GIVE_OR_TAKE, row
from viewer.words.lines import Entry
from viewer.words.poses import pose_words
from viewer.words.units import format_length, left_fraction, turned

OWN_LENGTHS = (
    "Weld lands and slip are generic unless the rig file has yours. Whatever yours differ by, the "
    "tube differs by."
)


LEAST_OFF = 0.1
"""mm. What is less off than this is as good as sure: no shop cuts to it."""


def cut_title(ticket: Ticket) -> str:
    """What the pieces are sawn from."""
    tube = ticket.rig.shaft.tube
    return f"CUT  tube {tube.outside} x {tube.wall} wall"


def cut_lines(ticket: Ticket) -> Iterator[Entry]:
    """What is sawn, what the rest of each piece takes up, and how its ears stand."""
    yield [f"  {'':<62}{'':>12}{'in':>10}{'mm':>10}"]
    for place, cut in enumerate(ticket.cuts.cuts):
        name = cut.piece.name
        yield row(f"{name}, joint center to joint center", cut.piece.length)
        if ticket.sure is not None and (off := ticket.sure.lengths[place]) > LEAST_OFF:
            yield row(f"  {GIVE_OR_TAKE}, as it was measured", off)
        for part in cut.parts:
            yield row(f"{'SAW ' if part.is_tube else ''}{part.name}", part.length)
        if len(cut.tubes) > 1 and cut.cut is not None:
            yield row("tube in all, cut square", cut.cut)
        if cut.parts:
            yield from _rounded(cut)
            yield from _ears(cut)
        else:
            keys = ", ".join(each.key for each in ticket.cuts.missing)
            why = f"without {keys}" if cut.tube is None else "there is no room for a tube"
            yield f"{name}: no cut length, {why}."
    phase = ticket.speed.phase
    if phase is not None and phase.worth_it:
        yield "Before welding: turning the ears takes away much of the shaking, see SHAKING."
    yield OWN_LENGTHS


def _ears(cut: Cut) -> Iterator[str]:
    """How the ears at both ends of a piece are welded on against each other."""
    first, last = cut.piece.first.joint, cut.piece.last.joint
    stand = turned(cut.piece.phase)
    says = f"those at the {first} joint and those at the {last} joint in line"
    if stand != "in line":
        says = (
            f"those at the {last} joint turned {stand} from those at the {first} joint, seen from "
            "the output"
        )
    slips = cut.slip_set is not None
    slip = "; mark sleeve and stub so they go back together that way" if slips else ""
    yield f"EARS, {cut.piece.name}: {says}, within 1 deg (common practice, no source){slip}."
    if slips:
        yield (
            "SLIP: sleeve toward the output, stub toward the pinion, as drawn. The other way "
            "around it cuts the same."
        )


def _rounded(cut: Cut) -> Iterator[str]:
    """How the tube was rounded, and what the joining tube is for."""
    if cut.tube is None:
        return
    if abs(cut.rounded) > 1e-6:
        way, kept = ("up", "opens") if cut.rounded > 0.0 else ("down", "closes")
        why = f", to favor the side where the slip {kept}, which has less left"
        yield (
            f"{cut.piece.name}: {cut.tube / 25.4:.3f} in of tube by the numbers, rounded {way} to "
            f"1/16 in{'' if cut.split is None else why}."
        )
    if len(cut.tubes) > 1:
        yield (
            "What counts is the tube in all. Change the joining tube, or leave it out, and the "
            "main tube changes by as much."
        )


def tape_lines(ticket: Ticket) -> Iterator[Entry]:
    """What to hold a tape to on the vehicle, to see that this is the right length."""
    for each in ticket.front_tape:
        yield row(f"{_at_output(each.at_output)} to {_at(each.at_pinion)}", each.reads)
    joint = "output" if ticket.rig.carrier is None else "middle"
    for each in ticket.tape:
        yield row(
            f"{_at_output(each.at_output, joint)} to {_at(each.at_pinion)} at the pinion",
            each.reads,
        )
    ends = [end for cut in ticket.cuts.cuts for end in (cut.piece.first, cut.piece.last)]
    if any(end.reach > 0.0 for end in ends):
        yield (
            "The joint center of a double-Cardan is the middle of its ball. Its outer cross is the "
            "one on the output or the pinion, its inner cross the one on the shaft."
        )
    seals = [each["place"] for each in ticket.assumed if each.code == "tape-check-from"]
    if "output seal" in seals:
        yield (
            "The sliding yoke's barrel is taken to bottom at the seal (assumed). Push the yoke "
            "home and see: as far as it stands off then, these readings are longer."
        )


def _at(datum: str) -> str:
    return datum.replace("centre", "center")


def _at_output(datum: str, joint: str = "output") -> str:
    """A place at the output, as a hand finds it."""
    return f"{joint} joint center" if datum == "joint centre" else datum


def slip_title(ticket: Ticket) -> str:
    """Where the slip is, and which it is."""
    plan = ticket.slip
    place = "in the shaft" if plan.at == "shaft" else "yoke sliding on the output"
    if plan.by_rig:
        return f"SLIP  {place}: as the rig file describes it"
    if plan.at == "output" and plan.barrel == 0.0:
        return f"SLIP  {place}: not measured, set as the travel takes it"
    return f"SLIP  {place}: {plan.built.name} from the catalogue, chosen for the travel"


def slip_lines(ticket: Ticket) -> Iterator[Entry]:
    """How the slip is set, and what the travel leaves of it."""
    plan, cut = ticket.slip, ticket.cuts.cuts[-1]
    split = cut.split or plan.built
    if plan.at == "shaft" and cut.slip_set is not None:
        yield row("pushed home, weld land to weld land", cut.slip_set - split.closes)
    if plan.barrel > 0.0:
        yield row("the sliding yoke's barrel, its whole length", plan.barrel)
    yield row("set: still closes at ride height", split.closes)
    yield row("set: still opens at ride height, spline in", split.opens)
    yield (
        f"The travel closes it {format_length(plan.closing)}, at {pose_words(plan.at_shortest)}. "
        f"It opens it {format_length(plan.opening)}, at {pose_words(plan.at_longest)}."
    )
    yield [f"  Left at the ends, {format_length(plan.reserve)} wanted:"]
    yield [f"  {'':<28}{'closing':>24}{'opening':>24}"]
    shown = [("as cut", split)]
    if cut.off is not None:
        shown += [("built 1/16 in too long", cut.off[0]), ("built 1/16 in too short", cut.off[1])]
    for name, each in shown:
        yield [f"  {name:<28}{_left(each.closes_left):>24}{_left(each.opens_left):>24}"]
    yield from _left_off(ticket)
    if split.engaged is not None:
        whose = "" if plan.at == "shaft" else ", of the sliding yoke, generic unless measured"
        yield (
            f"Spline in at the longest: {format_length(max(split.engaged, 0.0))}. Wanted: "
            f"{format_length(plan.least)} to {format_length(plan.wanted)}, 1.5 to 2 diameters "
            f"(common practice, no source) of {format_length(plan.spline)}{whose}."
        )
    yield from _better(plan, split)


def _left_off(ticket: Ticket) -> Iterator[Entry]:
    """How far off that may be, where somebody measured the slip."""
    if ticket.sure is None or not ticket.slip.by_rig:
        return
    off = [ticket.sure.left(code) for code in ("slip-closes", "slip-opens")]
    closes, opens = ("" if each is None else format_length(each) for each in off)
    if closes or opens:
        yield [f"  {GIVE_OR_TAKE:<28}{closes:>24}{opens:>24}"]


def _better(plan: SlipPlan, split: Split) -> Iterator[str]:
    """A better set point, and which slip of the catalogue would do."""
    best, found = plan.best, plan.chosen
    keeps = f"{_left(best.closes_left)} closing and {_left(best.opens_left)} opening"
    if best.least < 0.0:
        yield f"However it is set, this slip is too short for the travel. At best it has {keeps}."
    elif best.least > split.least + SIXTEENTH:
        moved = best.closes - split.closes
        way, tube = ("open", "shorter") if moved > 0.0 else ("closed", "longer")
        yield (
            f"A better split: set it {format_length(abs(moved))} further {way}, with "
            f"{format_length(best.closes)} to close. Then it keeps {keeps}. For that, cut the tube "
            f"that much {tube} and say so in shaft.slip."
        )
    if plan.at == "shaft":
        shortest = (
            ""
            if found is None
            else (
                f". The shortest in the catalogue that has it is the {found.name}, set with "
                f"{format_length(found.closes)} to close"
            )
        )
        yield (
            "Stroke the travel takes, with both reserves and spline: "
            f"{format_length(plan.stroke)}{shortest}."
        )


def _left(mm: float) -> str:
    """What is left of a slip; a minus where it is not enough."""
    return f"{left_fraction(mm)} ({mm:.1f} mm)"
