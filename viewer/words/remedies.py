"""What to do about a shaft that binds, what else it takes, and what it makes worse: by code."""

from collections.abc import Mapping
from math import degrees
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import (
    format_angle,
    format_length,
    format_missing,
    format_spoken,
)


def _head(head: str, turn: float, up: float, low: float) -> str:
    aim = "pointing at the head"
    if low:
        aim = f"{abs(degrees(low)):g} deg {'below' if low > 0.0 else 'above'} {aim}"
    return (
        f"A double-Cardan head ({head}) at the output and the pinion turned nose "
        f"{'up' if turn > 0.0 else 'down'} {format_angle(abs(turn))}, to "
        f"{format_spoken(up, 'up', 'down')}: {aim}"
    )


def _caster(turn: float, then: float | None) -> str:
    left = "" if then is None else f", {format_spoken(then, 'positive', 'negative')} then,"
    return (
        f"{'takes away' if turn > 0.0 else 'adds'} {format_angle(abs(turn))} of caster{left} "
        "unless the knuckles are cut and turned"
    )


def _slip_longer(
    sliding: bool, barrel: float | None, more: float, closes: float | None, opens: float | None
) -> str:
    part = "A slip"
    if sliding:
        size = "" if barrel is None else f", {format_length(barrel)},"
        part = f"A sliding yoke with a longer barrel{size} and"
    sides = {"close": closes, "open": opens}
    left = [f"{format_length(mm)} to {way}" for way, mm in sides.items() if mm is not None]
    return (
        f"{part} with {format_length(more)} more stroke, set at ride height with "
        f"{' and '.join(left)}"
    )


def _straps(in_middle: bool, apart: float, droop: float, earlier: float) -> str:
    what, ends = "Limit straps or shorter shocks", "end the droop"
    if in_middle:
        what, ends = "A shorter limit strap in the middle of the axle", "ends the droop"
    elif apart > 0.0:
        what += f" at the axle's ends, {format_length(apart)} apart,"
        ends = "end each side's droop"
    return (
        f"{what} that {ends} at {format_length(droop)} below ride height, {format_length(earlier)} "
        "earlier"
    )


def _roll_past(roll: float, down: bool, travel: float, before: float) -> str:
    return (
        f"takes roll too: the whole {format_angle(roll)} only {'down' if down else 'up'} to "
        f"{_height(travel)}, before to {_height(before)}"
    )


def _height(travel: float) -> str:
    way = "of bump" if travel > 0.0 else "of droop"
    return "ride height" if abs(travel) < _AT_RIDE else f"{format_length(abs(travel))} {way}"


_AT_RIDE: Final = 25.4 / 32.0
"""mm. Nearer to ride height than a tape shows."""


def _deep(at: str, count: int, two_piece: bool) -> str:
    if not two_piece:
        where = "both ends" if count > 1 else f"the {at} end"
    elif count > 2:
        where = "all three joints"
    else:
        where = f"the {at} joint{'s' if count > 1 else ''}"
    return f"Deep-throat yokes at {where}"


def _slip_short(side: str, short: float) -> str:
    fails = "bottoms" if side == "closing" else "runs out"
    return f"the slip then {fails}, {format_missing(short)} short"


def _shakes(coasting: str | None, driven: str | None) -> str:
    told = [each for each in (coasting, driven) if each is not None]
    return f"shakes more, by the pinion's lead and lag: {', '.join(told)}"


DOES: Final[Mapping[str, Sentence]] = {
    "straps-end-droop": _straps,
    "stops-end-bump": (
        "Bump stops that end the travel {bump:length} above ride height, {earlier:length} earlier"
    ),
    "tube-cut-anew": (
        "The tube {by:length} {way}, so that the slip sits with {closes:length} to close and "
        "{opens:length} to open"
    ),
    "pinion-turned": ("Turn the pinion's nose {way} {turn:angle}: {how}, to {up:angle up|down}"),
    "by-arms": "adjust the arms, or cut and turn the perches",
    "by-shims": ("{size:nominal} shims, thick end to the {to_front:?front|rear}"),
    "by-perches": "cut and turn the perches, farther than shims go",
    "by-arms-or-perches": "longer arms, or the perches cut and turned, farther than shims go",
    "by-shims-arms-or-perches": (
        "shims on leaf springs, longer arms, or the perches cut and turned"
    ),
    "output-dropped": (
        "Drop the output {by:length}, its slope "
        "kept{two_piece:?; the carrier bearing stays where it is|}"
    ),
    "output-raised": (
        "Raise the output {by:length}, its slope "
        "kept{two_piece:?; the carrier bearing stays where it is|}"
    ),
    "bearing-lowered": (
        "Lower the carrier bearing {by:length} with spacers; the output stays where it is"
    ),
    "bearing-raised": (
        "Raise the carrier bearing {by:length} on its bracket; the output stays where it is"
    ),
    "output-and-bearing-dropped": (
        "Drop the output and the carrier bearing {by:length} each, their slopes kept"
    ),
    "output-and-bearing-raised": (
        "Raise the output and the carrier bearing {by:length} each, their slopes kept"
    ),
    "anti-wrap-bar": (
        "An anti-wrap bar with a shackle or swivel at its far end, taken to leave {leaves:angle} "
        "of wrap each way"
    ),
    "shaft-longer": (
        "A shaft {by:length} longer along the vehicle: a shorter tail, another case, or the axle "
        "set {goes}"
    ),
    "rear-section-longer": (
        "A rear section {by:length} longer along the vehicle: the axle set {goes}, output and "
        "carrier bearing where they are"
    ),
    "head-at-output": _head,
    "deep-throats": _deep,
    "joints-of-size": (
        "Joints of size {size} at {two_piece:?all three joints|both ends} in place of {was}"
    ),
    "slip-longer": _slip_longer,
    "slip-into-shaft": (
        "A fixed flange yoke on the output in place of the sliding one, and a {slip} in the shaft, "
        "set at ride height with {closes:length} to close and {opens:length} to open"
    ),
    "two-pieces": (
        "Two pieces with a carrier bearing {back:length} from the output joint along the vehicle "
        "and {below:length below|above} it, the middle joint {beyond:length} behind the bearing"
    ),
}
"""What to do."""

COSTS: Final[Mapping[str, Sentence]] = {
    "costs-droop": "costs {share:.0%} of the droop",
    "costs-bump": "costs {share:.0%} of the bump",
    "takes-roll": "takes roll too: no more than {most:angle} at any height, {before:angle} before",
    "takes-roll-past": _roll_past,
    "straps-stretch": "straps stretch and wear, so set them short by what they give",
    "ride-harder": "the ride gets harder",
    "takes-slip": "takes {by:length} of {side}",
    "cut-weld-balance": "cut, weld and balance again",
    "shim-loads-pin": "a shim this thick loads the centre pin: longer pins, or turned perches",
    "pinion-starves": "a pinion that points up far starves its front bearing of oil",
    "caster-changes": _caster,
    "costs-belly": "costs {by:length} of belly clearance",
    "watch-fan": "watch fan, linkages and mounts",
    "watch-floor": "watch the floor, linkages and mounts",
    "front-section-changes": (
        "from the output to the bearing it is {longer:length_size} {longer:?longer|shorter} then: "
        "the bearing's bracket has to slide so far, or the front section is cut anew"
    ),
    "less-room-under-shaft": "less room under the shaft",
    "bearing-near-floor": "watch the floor above, and whether the bracket lets it up",
    "bearing-sits-square": (
        "the bearing has to sit square to the front section, or its rubber wears"
    ),
    "bar-can-jack": (
        "a bar can jack, hop or stop articulation if its far end is fixed; what it really leaves "
        "of the wrap is to be measured"
    ),
    "new-shaft-and-wheelbase": (
        "a new shaft, which whirls at a lower speed; setting the axle {goes} changes the wheelbase "
        "and the suspension's own points"
    ),
    "new-shaft-and-head": "a new shaft with a heavy head",
    "no-shim-goes-so-far": (
        "no shim turns it so far: cut and turn the perches, or adjustable arms"
    ),
    "thinner-rings": (
        "thinner rings round the bores; longer lands and other flanges, so the tube is cut and "
        "balanced again; what was measured of the old is dropped: measure the new"
    ),
    "joints-weaker": "weaker joints: check the torque first",
    "joints-stronger": "stronger and heavier",
    "new-yokes-and-tube": (
        "new yokes on the output and the pinion, and a tube cut and balanced for them"
    ),
    "gains-length": "gains length, not angle",
    "less-tube": "a longer stub leaves less tube",
    "made-for-it": "more than is on a shelf: a part made for it",
    "barrel-wants-spline": (
        "the output shaft must be splined that far and its housing leave room for the barrel: "
        "measure both, few do"
    ),
    "fixed-yoke-kit": (
        "a fixed-yoke kit for the case and a new shaft; its joint is taken to sit where the old "
        "one sits at ride height: measure where the kit puts it before the shaft is cut"
    ),
    "bearing-and-third-joint": (
        "a bearing with rubber that wears, a bracket, a third joint to grease; the rear section is "
        "shorter and steeper, so this pays for length and whirl more than for angle"
    ),
}
"""What else it takes."""

WORSE: Final[Mapping[str, Sentence]] = {
    "takes-room": "takes {less:angle} of room from the {joint} joint",
    "slip-then-short": _slip_short,
    "leaves-little-slip": ("leaves only {left:length_under {wanted}} of {side}"),
    "shakes-more": _shakes,
    "leads-at-ride": ("{now:fine_angle} in place of {was:fine_angle} at ride height"),
    "leads-under-power": (
        "{now:fine_angle} in place of {was:fine_angle} under power with {all_wrap:?all|half} of "
        "the wrap"
    ),
    "heads-not-ground": "heads are not ground by calculation",
    "bends-too-far": "{bend:angle} is more than any single joint bends",
}
"""What it makes worse, and why grinding does not do instead."""

REMEDIES: Final[Mapping[str, Sentence]] = {**DOES, **COSTS, **WORSE}
