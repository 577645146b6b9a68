"""What the rig computes of the parts of a joint: marks on the yokes, how the caps sit."""

from collections.abc import Iterator
from itertools import groupby
from math import degrees, isnan
from typing import Any, Final

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked import CapResult, Corner
from sim.marks import Backward, Mark
from sim.seen.words import CAPS
from sim.why.why import Why
from viewer.encoder import keyed, number, plain
from viewer.words.lines import stopped
from viewer.words.met import clocks_text, made_lines, met_lines
from viewer.words.remarks import said
from viewer.words.seen import CAP_CALLED, YOKE_CALLED
from viewer.words.sentence import capital
from viewer.words.units import against, format_angle, share_words, times_words

MOST_MARKS: Final = 8
"""Places that are told; JSON has them all."""


def mark_lines(why: Why) -> Iterator[str]:
    """Where marks must be, the deepest first, and how those that were seen lie to them."""
    marks, lie = why.asked.marks, why.asked.lie
    if marks is None or not (why.asked.reached or lie is not None):
        return
    if not why.asked.reached:
        yield (
            f"The axle as typed bends the joint {format_angle(why.case.at_joint.most)} at most; "
            f"it touches from {format_angle(marks.touch)} on, and there:"
        )
    alike = sorted(marks.forced, key=_alike)
    for group in [list(each) for _, each in groupby(alike, _alike)][:MOST_MARKS]:
        where, by, when = met_lines(group)
        yield f"{capital(group[0].name)}, {where}: {by}; {when}."
    for placed in () if lie is None else lie.marks:
        if placed.mark.clock is None or isnan(placed.share):
            continue
        place = f"{placed.mark.surface} at {clocks_text([placed.mark.clock])}"
        yield (
            f"Seen on {YOKE_CALLED[placed.mark.yoke]}, {place}: {share_words(placed.share)} "
            "likely to be a place that is met."
        )
    for back in why.made:
        yield capital(" ".join(made_lines(back)))
    if lie is not None:
        yield (
            f"A mark put anywhere would be so by {share_words(lie.chance)}; {_together(lie.ratio)}."
        )


def _together(ratio: float) -> str:
    """All marks, for metal met there and by chance."""
    if ratio >= 1.0:
        return f"together the marks are {times_words(ratio)} as likely for metal met there"
    return f"by chance the marks lie as they do {times_words(1.0 / ratio)} as often"


def _alike(mark: Mark) -> tuple[float, str, str, str]:
    patch = mark.patch
    return -round(patch.depth, 2), mark.name, patch.surface, patch.against


def cap_lines(why: Why) -> Iterator[str]:
    """How each cap sits that something was measured of, and what that does."""
    for name in CAPS:
        cap = why.asked.cocked.caps[name]
        if cap.seat.measured:
            reasons = "; ".join(said(tip.why) for tip in cap.seat.tips)
            yield f"Cap {CAP_CALLED[name]}: {reasons or 'straight by what was measured'}."
            yield stopped(f"That: {_comes_to(cap)}")


def _comes_to(cap: CapResult) -> str:
    times = cap.corner_ratio / cap.straight_ratio
    told = (
        f"its corner carries {times_words(times)} a straight cap's, at the hardest pull "
        f"{against(cap.hard_mpa, STATIC_PRESSURE)} what hardened steel takes; it lasts "
        f"{share_words(cap.life_ratio)} as long as a straight one"
    )
    return told if times > SAME else "no more than a straight cap carries"


SAME: Final = 1.02
"""Times a straight cap's from which on it is told."""


def marks_data(why: Why) -> list[dict[str, Any]]:
    """Every mark that metal must leave, as plain data.

    Where the axle never bends the joint so far, those past first touch, which have no pose, and
    only where marks were seen to be held against them.
    """
    marks = why.asked.marks
    if marks is None or not (why.asked.reached or why.asked.lie is not None):
        return []
    return [_mark(each) for each in marks.forced]


def _mark(mark: Mark) -> dict[str, Any]:
    patch = mark.patch
    return {
        "part": mark.name,
        "yoke": mark.on,
        "surface": patch.surface,
        "clock_deg": None if patch.clock is None else degrees(patch.clock),
        "depth_mm": patch.depth,
        "pair": patch.pair,
        "spins_deg": [[degrees(end) for end in arc] for arc in patch.spins],
        "half_turns": list(patch.half_turns),
        "area_sq_mm": patch.area,
        "from_pose": plain(mark.first),
        "from_bend_deg": number(degrees(mark.bend)),
        "touches_first": mark.comes_first,
        "by": mark.by,
        "by_surface": patch.against,
    }


def overlap_data(why: Why) -> dict[str, Any] | None:
    """How the marks that were seen lie to the computed ones; null where none was seen."""
    lie = why.asked.lie
    if lie is None:
        return None
    return {
        "share": number(lie.share),
        "by_chance": lie.chance,
        "times_as_likely": lie.ratio,
        "marks": [
            {
                "yoke": each.mark.yoke,
                "surface": each.mark.surface,
                "clock_deg": None if each.mark.clock is None else degrees(each.mark.clock),
                "share": number(each.share),
                "times_as_likely": each.ratio,
                "made": _made(back),
            }
            for each, back in zip(lie.marks, why.made, strict=True)
        ],
    }


def _made(back: Backward) -> dict[str, Any]:
    """What made a mark, by going back from its place."""
    return {
        "from_bend_deg": number(degrees(back.low)),
        "so_deep_takes_deg": number(degrees(back.high)),
        "spins_deg": [[degrees(end) for end in arc] for arc in back.spins],
        "by": list(back.by),
        "reached": back.reached,
        "most_bend_deg": degrees(back.most),
        "nearest_pose": plain(back.nearest),
        "share_of_travel": back.share,
    }


def caps_data(why: Why) -> dict[str, Any]:
    """Each cap by its name."""
    return {name: _cap(why.asked.cocked.caps[name]) for name in CAPS}


def _cap(cap: CapResult) -> dict[str, Any]:
    keys = (
        "tilt_mrad corner_ratio straight_ratio forced_ratio peak_mpa straight_mpa hard_mpa "
        "life_ratio forced_life_ratio dents"
    )
    return keyed(cap, keys) | {
        "measured": cap.seat.measured,
        "why": [said(tip.why) for tip in cap.seat.tips],
        "corners": [_corner(each) for each in cap.corners],
    }


def _corner(corner: Corner) -> dict[str, Any]:
    return keyed(corner, "way end angle_deg=angle ratio half_a_turn_later=again")
