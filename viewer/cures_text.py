"""What would cure a shaft, as text: the cheapest that works first, with what else it does."""

from collections.abc import Iterator, Sequence
from math import degrees, isfinite
from textwrap import wrap

from sim.cures import Cure, Cures
from sim.cures.grinding import Grinding
from sim.cures.outcome import Outcome
from sim.cures.remedy import LITTLE_ELSE
from sim.findings import Verdict
from sim.units import format_fraction, format_fraction_up, format_length
from viewer.commands.relief import GRIND_CAUTION, headline
from viewer.words import CAUTION, verdict_word

WIDTH = 96

SURROUNDINGS = (
    "Cures are compared by joints with their gaps, slip and reach. What lives near the shaft is "
    "checked by `bindpoint check` on the saved rig."
)


_GETS_THERE: dict[Verdict, str] = {
    "clear": "What gets to the room that was wanted, the cheapest first:",
    "close": "What cures it, with less room than was wanted, the cheapest first:",
}

WITHIN_READINGS = "What keeps the travel within the readings, the cheapest first:"

ROOM_ONLY = (
    "All of this is about room. Whether the shaft carries the torque, how fast it may turn and how "
    "much it shakes at speed: `bindpoint build` on the saved rig."
)

_NOTHING_DOES: dict[Verdict, str] = {
    "clear": "Nothing that was tried gets to the room that was wanted.",
    "close": "Nothing that was tried cures it.",
}


def cures_text(found: Cures, ground: Sequence[Grinding] | None = None) -> str:
    """Everything that was found; `ground` is what grinding would take, where that was asked."""
    return "\n".join(_lines(found, ground))


def _lines(found: Cures, ground: Sequence[Grinding] | None) -> Iterator[str]:
    before = found.before
    yield found.rig.name
    yield f"{_word(before)}  as it is"
    if before.verdict == "clear":
        yield ""
        yield "Nothing touches and there is the room that was wanted: no cure is needed."
        yield ""
        yield from wrap(ROOM_ONLY, WIDTH)
        yield from wrap(CAUTION, WIDTH)
        return
    if before.beyond > 0.0:
        yield from wrap(read_further(found), WIDTH)
    yield ""
    working = [cure for cure in found.cures if cure.works]
    if before.held == "clear":
        yield WITHIN_READINGS if working else _NOTHING_DOES[found.goal]
    else:
        yield (_GETS_THERE if working else _NOTHING_DOES)[found.goal]
    for number, cure in enumerate(found.cures, start=1):
        if number == len(working) + 1:
            yield ""
            yield "What helps but is not enough by itself:"
        yield from _cure(number, cure)
    if found.useless:
        yield ""
        useless = ", ".join(code.replace("-", " ") for code in found.useless)
        yield from wrap(f"Tried and of no help here: {useless}.", WIDTH, subsequent_indent="  ")
    yield ""
    yield from _grinding(ground)
    yield ""
    yield "Before and after:"
    yield from _table(found)
    yield ""
    yield from wrap(_rule(found), WIDTH)
    yield from wrap(SURROUNDINGS, WIDTH)
    yield from wrap(ROOM_ONLY, WIDTH)
    yield from wrap(CAUTION, WIDTH)


def _cure(number: int, cure: Cure) -> Iterator[str]:
    first, *more = cure.says
    lines = [f"{first}{', and' if more else '.'}", *(f"{_small(says)}." for says in more)]
    for i, line in enumerate(lines):
        lead = f"{number:>3}. " if i == 0 else "     "
        yield from wrap(line, WIDTH, initial_indent=lead, subsequent_indent="     ")
    costs = [cost for cost in dict.fromkeys(cure.costs) if cost != LITTLE_ELSE]
    price = "; ".join(costs or [LITTLE_ELSE])
    yield from wrap(f"Price: {price}.", WIDTH, initial_indent="     ", subsequent_indent="     ")
    if cure.after.beyond > 0.0:
        rests = f"Rests on what was not read: {_beyond(cure.after)}."
        yield from wrap(rests, WIDTH, initial_indent="     ", subsequent_indent="     ")


def read_further(found: Cures) -> str:
    """What to read of the suspension before anything is bought."""
    before, travel = found.before, found.rig.travel
    ends = ((before.below, travel.droop.mm, "droop"), (before.above, travel.bump.mm, "bump"))
    to = " and ".join(f"{format_length(goes)} of {way}" for beyond, goes, way in ends if beyond > 0)
    return (
        f"The suspension was not read over {_beyond(before)}; there the axle is taken to go "
        f"straight on. Read it at {to} too: that cures nothing, but tells whether there is "
        "something to cure."
    )


def _beyond(outcome: Outcome) -> str:
    """How far the travel goes beyond the readings, in words."""
    ends = ((outcome.below, "droop"), (outcome.above, "bump"))
    return " and ".join(f"the last {format_length(mm)} of {way}" for mm, way in ends if mm > 0.0)


def _grinding(ground: Sequence[Grinding] | None) -> Iterator[str]:
    if ground is None:
        yield "What grinding the yokes would take: ask with --grind, 10 to 20 s a joint."
        return
    yield "What grinding the yokes would take:"
    for each in ground:
        lead = f"  {each.joint} joint, for {degrees(each.wanted):.1f} deg: "
        if each.found is None or each.hardware is None:
            yield from wrap(f"{lead}{each.why}.", WIDTH, subsequent_indent="    ")
            continue
        plans = [plan for plan in each.found.plans if plan.stop is None] or each.found.plans
        best = max(plans, key=lambda plan: plan.reached)
        text = f"{lead}{headline(each.hardware, best)}"
        yield from wrap(text, WIDTH, subsequent_indent="    ")
    if ground:
        yield from wrap(GRIND_CAUTION, WIDTH, initial_indent="  ", subsequent_indent="  ")


def _small(says: str) -> str:
    """A sentence that goes on from the one before."""
    return says[0].lower() + says[1:]


def _table(found: Cures) -> Iterator[str]:
    joints = list(found.before.margins)
    heads = [*(f"{joint}" for joint in joints), "closes", "opens", "shake", "length", ""]
    row = "{:<10}" + "{:>11}" * len(joints) + "{:>11}{:>11}{:>10}{:>12}  {}"
    yield row.format("", *heads)
    yield row.format("as it is", *_cells(found.before))
    for number, cure in enumerate(found.cures, start=1):
        yield row.format(f"with {number}", *_cells(cure.after))


def _cells(outcome: Outcome) -> list[str]:
    bends = [f"{degrees(m):.1f} deg" if isfinite(m) else "-" for m in outcome.margins.values()]
    slips = [_left(outcome.closes_left), _left(outcome.opens_left)]
    shake = f"{degrees(outcome.uneven):.2f} deg"
    return [*bends, *slips, shake, format_fraction(outcome.length), _word(outcome)]


def _word(outcome: Outcome) -> str:
    """The verdict, and why where no column shows it."""
    metal = not outcome.reaches or any(margin <= 0.0 for margin in outcome.margins.values())
    word = verdict_word(outcome.verdict, metal)
    return f"{word} (gap at the {' and '.join(outcome.tight)})" if outcome.tight else word


def _left(mm: float) -> str:
    return f"-{format_fraction_up(-mm)}" if mm < 0.0 else format_fraction(mm)


def _rule(found: Cures) -> str:
    by = found.weights
    return (
        "Joints and slip: what is left over the whole travel. Shake: how far the pinion leads and "
        "lags at ride height. Order: parts + "
        f"{by.hour:g} x hours + {by.travel:g} x share of travel given up, in sets of straps "
        f"({by.source}); put in your own with --weights."
    )
