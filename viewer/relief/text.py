"""What grinding gains at a joint, in words."""

from collections.abc import Iterator
from math import degrees, isfinite
from textwrap import wrap

from geometry.relief import Cut, Plan, Relief
from sim.hardware.joint import JointHardware
from viewer.words.bench import fitted_says
from viewer.words.units import format_fine
from viewer.words.verdicts import CAUTION

GRIND_CAUTION = (
    "Ground metal is weaker metal: this says nothing of strength. Fit the joint first, radius what "
    "is ground, leave no thin bridge over a cap, and look for cracks. When in doubt use yokes made "
    "for the angle."
)


MEASURE_FIRST = "Measure them before you grind."


def relief_lines(rig_name: str, hardware: JointHardware, found: Relief) -> Iterator[str]:
    """What grinding gains, what it takes off each yoke, and what to heed, line by line."""
    if found.already:
        yield f"{rig_name}: {nothing_to_grind(hardware, found)}"
        yield from wrap(CAUTION, 96)
        return
    yield f"{rig_name}: relief of the {hardware.joint} joint"
    yield (
        f"Good for {degrees(found.before):.1f} deg as it is. Wanted: {degrees(found.wanted):.1f} "
        f"deg, with {format_fine(found.clearance)} of gap and no wall under "
        f"{format_fine(found.least_wall)}"
    )
    if hardware.fitted:
        yield from wrap(f"{fitted_says(hardware.joint)} {MEASURE_FIRST}", 96)
    for plan in found.plans:
        yield ""
        yield from wrap(headline(hardware, plan), 96, subsequent_indent="    ")
        for body, cut in plan.cuts.items():
            wall = wall_words(cut, found.least_wall)
            text = (
                f"  - {hardware.yoke_name(body)}: grind the {' and '.join(cut.surfaces)}, "
                f"{format_fine(cut.depth)} at the deepest, "
                f"{cut.volume / 25.4**3:.3f} in3 ({cut.volume / 1000.0:.2f} cm3){wall}"
            )
            yield from wrap(text, 96, subsequent_indent="    ")
    yield ""
    yield from wrap(GRIND_CAUTION, 96)
    yield from wrap(CAUTION, 96)


def nothing_to_grind(hardware: JointHardware, found: Relief) -> str:
    """Say in a sentence that the joint is clear at the bend wanted, and how much room it has."""
    gap = hardware.smallest_gap(found.wanted).distance
    short = ""
    if gap < found.clearance:
        short = f", less than the {format_fine(found.clearance)} that grinding would leave"
    return (
        f"Nothing to grind at the {hardware.joint} joint: it is good for "
        f"{degrees(found.before):.1f} deg as it is, and {degrees(found.wanted):.1f} deg is wanted; "
        f"{format_fine(gap)} of gap is left there{short}."
        f"{f' {fitted_says(hardware.joint)}' if hardware.fitted else ''}"
    )


def wall_words(cut: Cut, least: float) -> str:
    """The thinnest wall beside what has to stay there."""
    if not isfinite(cut.wall):
        return "; no wall is near"
    told = f", wall left {format_fine(cut.wall)} where {format_fine(cut.limit)} has to stay"
    if cut.limit < least:
        told += (
            f": under {format_fine(least)}, since the yoke was hardly thicker there to begin with, "
            "as at a bevel; four fifths of what was there stays"
        )
    return told


def headline(hardware: JointHardware, plan: Plan) -> str:
    """Say in a sentence who is ground, what it reaches, and why it stops."""
    who = "both yokes by half"
    if plan.way != "shared":
        who = f"the {hardware.yoke_name(plan.way)} alone"
    reached = f"{degrees(plan.reached):.1f} deg ({degrees(plan.gained):+.1f})"
    if plan.stop is None:
        return f"Grinding {who} reaches {reached}."
    return f"Grinding {who} reaches {reached} and stops: {_why(hardware, plan)}."


def _why(hardware: JointHardware, plan: Plan) -> str:
    stop = plan.stop
    if stop is None:
        return ""
    part = hardware.yoke_name(stop.body)
    return {
        "wall": f"the wall of the {part} would get too thin",
        "hardware": f"the {stop.surface} of the {part} hits, and is never ground: swap it",
        "seat": f"the {stop.surface} of the {part} hits, and is never ground",
        "cross": "the cross itself hits",
        "uncertain": "more could not be confirmed",
    }[stop.reason]
