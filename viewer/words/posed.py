"""One pose of the axle and one turn of the shaft, in lines."""

from collections.abc import Iterator
from math import degrees, inf, radians

from geometry.contact.gap import Gap
from sim.bars.give_or_take import PoseOff
from sim.pose import PoseCheck
from viewer.words.bars import LIKELY, LITTLE_TOLD, trucks
from viewer.words.bench import fitted_says
from viewer.words.meeting import surfaces_words
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words
from viewer.words.units import format_angle, format_fine, format_fraction_up, format_length
from viewer.words.verdicts import CAUTION, slip_left_words, verdict_word


def pose_lines(rig_name: str, result: PoseCheck, off: PoseOff | None = None) -> Iterator[str]:
    """Bends, gaps, slip and what is near, line by line, and how far off all that may be."""
    state = result.state.line
    yield f"{rig_name}: {pose_words(result.at)}, output yoke turned {degrees(result.spin):.0f} deg"
    if result.beyond:
        yield f"out of reach: {out_of_reach_words(result.beyond)}"
    for joint, found in result.joints.items():
        yield (
            f"{joint:<7} joint bent {degrees(found.bend):.1f} deg, turned "
            f"{round(degrees(found.spin)) % 360} deg: {_room(found.gap)}; over a full turn "
            f"{_room(found.least)}, {verdict_word(found.verdict).lower()}"
        )
    yield from (fitted_says(name) for name, each in result.joints.items() if each.hardware.fitted)
    yield f"length  {format_length(float(state.length))}"
    moved = float(state.slip)
    word = "open" if moved >= 0.0 else "closed"
    left = ", ".join(
        f"{slip_left_words(mm)} {'how far it can' if mm == inf else 'to'} {way}"
        for mm, way in ((result.closes_left, "close"), (result.opens_left, "open"))
    )
    yield f"slip    {format_length(abs(moved))} {word} from ride height; {left}"
    for near in result.surroundings:
        said = "hit by" if near.touches else f"{format_length(near.sure_mm)} left, from"
        word = verdict_word(near.verdict(result.rig.wanted.clearance.mm)).lower()
        yield (
            f"near    {near.name}: {said} the {near.called}, {word}; not checked: "
            f"{', '.join(near.unseen)}"
        )
    if off is not None:
        yield off_words(off)
    yield CAUTION


def off_words(off: PoseOff) -> str:
    """How sure a pose is."""
    return f"sure    {off_said(off)}"


def off_said(off: PoseOff) -> str:
    """How likely metal meets in a pose, and how far off its numbers may be."""
    some = f", {trucks(off.chance)}" if off.chance >= LITTLE_TOLD else ""
    would = " would touch" if some and off.likely == "clear" else ""
    bends = {f"{joint} bend": each for joint, each in off.bends.items() if each > AS_IS}
    parts = [f"{name} {format_angle(each)}" for name, each in bends.items()]
    lengths = {"length": off.length, "slip": off.slip}
    parts += [f"{name} {format_fraction_up(mm)}" for name, mm in lengths.items() if mm > AS_GOOD]
    rest = f"; give or take: {', '.join(parts)}" if parts else ""
    return f"{LIKELY[off.likely]} here{some}{would}{rest}"


AS_IS, AS_GOOD = radians(0.05), 0.1
"""Rad, mm. What is less off reads as what it is."""


def _room(gap: Gap) -> str:
    if gap.overlaps:
        return f"metal meets ({surfaces_words(gap.surfaces)})"
    return f"gap {format_fine(gap.distance)}"
