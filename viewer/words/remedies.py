"""What to do about a shaft that binds, what else it takes, and what it makes worse: by code."""

from collections.abc import Mapping
from math import degrees
from typing import Final

from sim.speed import ABSURD, Load
from viewer.words.felt import WHEN, felt_at
from viewer.words.sentence import Sentence
from viewer.words.units import (
    format_angle,
    format_fraction,
    format_length,
    format_missing,
    format_spoken,
)


def _head(head: str, turn: float, up: float, low: float) -> str:
    aim = "pointing straight at the head"
    if low:
        aim = f"{abs(degrees(low)):g} deg {'below' if low > 0.0 else 'above'} {aim}"
    return (
        f"A double-Cardan ({head}) at the output, with the pinion turned nose "
        f"{'up' if turn > 0.0 else 'down'} {format_angle(abs(turn))}, to "
        f"{format_spoken(up, 'up', 'down')}: {aim}"
    )


def _caster(turn: float, then: float | None) -> str:
    left = "" if then is None else f", leaving {format_spoken(then, 'positive', 'negative')},"
    return (
        f"{'costs' if turn > 0.0 else 'adds'} {format_angle(abs(turn))} of caster{left} "
        "unless the knuckles are cut and turned"
    )


def _slip_longer(
    sliding: bool, barrel: float | None, more: float, closes: float | None, opens: float | None
) -> str:
    part = "A slip"
    if sliding:
        size = "" if barrel is None else f", {format_length(barrel)},"
        part = f"A sliding yoke with a longer barrel{size}"
    sides = {"close": closes, "open": opens}
    left = [f"{format_length(mm)} to {way}" for way, mm in sides.items() if mm is not None]
    return (
        f"{part}{' and' if sliding else ' with'} {format_length(more)} more stroke, set at ride "
        f"height with "
        f"{' and '.join(left)}"
    )


def _straps(in_middle: bool, apart: float, droop: float, earlier: float) -> str:
    what, ends = "Limit straps or shorter shocks", "that stop the axle"
    if in_middle:
        what = "A shorter limit strap in the middle of the axle"
    elif apart > 0.0:
        what += f", {format_length(apart)} apart,"
        ends = "that stop each side"
    return f"{what} {ends} at {format_length(droop)} of droop, {format_length(earlier)} sooner"


def _roll_past(roll: float, down: bool, travel: float, before: float) -> str:
    return (
        f"costs crossing up too: the full {format_angle(roll)} only {'down' if down else 'up'} to "
        f"{_height(travel)}, not {_height(before)}"
    )


def _height(travel: float) -> str:
    way = "of bump" if travel > 0.0 else "of droop"
    return "ride height" if abs(travel) < _AT_RIDE else f"{format_fraction(abs(travel))} {way}"


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
    fails = "bottoms out" if side == "closing" else "runs out"
    return f"the slip then {fails}, {format_missing(short)} short"


def _shakes(level: str | None, power: str | None) -> str:
    told = [each for each in (level, power) if each is not None]
    return f"shakes sooner: {'; '.join(told)}"


def _felt(load: Load, now: float, road: float | None, was: float, was_road: float | None) -> str:
    before = f"above {felt_at(was, was_road)}" if was < ABSURD else "not at all"
    return f"{WHEN[load]} felt above {felt_at(now, road)}; it was {before}"


DOES: Final[Mapping[str, Sentence]] = {
    "straps-end-droop": _straps,
    "stops-end-bump": (
        "Bump stops that stop the axle at {bump:length} of bump, {earlier:length} sooner"
    ),
    "tube-cut-anew": (
        "Make the tube {by:length} {way}: the slip then sits with {closes:length} to close and "
        "{opens:length} to open"
    ),
    "pinion-turned": ("Turn the pinion nose {way} {turn:angle}, to {up:angle up|down}: {how}"),
    "by-arms": "adjust the arms, or cut and turn the perches",
    "by-shims": ("{size:nominal} shims, thick end to the {to_front:?front|rear}"),
    "by-perches": "cut and turn the perches, since no shim goes that far",
    "by-arms-or-perches": "longer arms, or cut and turn the perches, since no shim goes that far",
    "by-shims-arms-or-perches": ("shims on leaf springs, longer arms, or cut and turned perches"),
    "output-dropped": (
        "Drop the output {by:length} and keep its slope"
        "{two_piece:?; leave the carrier bearing where it is|}"
    ),
    "output-raised": (
        "Raise the output {by:length} and keep its slope"
        "{two_piece:?; leave the carrier bearing where it is|}"
    ),
    "bearing-lowered": (
        "Lower the carrier bearing {by:length} with spacers; leave the output where it is"
    ),
    "bearing-raised": (
        "Raise the carrier bearing {by:length} on its bracket; leave the output where it is"
    ),
    "output-and-bearing-dropped": (
        "Drop the output and the carrier bearing {by:length} each and keep their slopes"
    ),
    "output-and-bearing-raised": (
        "Raise the output and the carrier bearing {by:length} each and keep their slopes"
    ),
    "anti-wrap-bar": (
        "An anti-wrap bar with a shackle or swivel at its far end, figured to leave "
        "{leaves:angle} of wrap each way"
    ),
    "shaft-longer": (
        "A shaft {by:length} longer along the vehicle: a shorter tail housing, another case, or "
        "the axle set {goes}"
    ),
    "rear-section-longer": (
        "A rear section {by:length} longer along the vehicle: the axle set {goes}, the output "
        "and carrier bearing left where they are"
    ),
    "head-at-output": _head,
    "deep-throats": _deep,
    "joints-of-size": (
        "{size} joints at {two_piece:?all three places|both ends} in place of {was}"
    ),
    "slip-longer": _slip_longer,
    "slip-into-shaft": (
        "A fixed flange yoke on the output in place of the sliding one, and a {slip} in the shaft: "
        "set at ride height with {closes:length} to close and {opens:length} to open"
    ),
    "two-pieces": (
        "A two-piece shaft: carrier bearing {back:length} from the output joint along the vehicle "
        "and {below:length below|above} it, middle joint {beyond:length} behind the bearing"
    ),
}
"""What to do."""

COSTS: Final[Mapping[str, Sentence]] = {
    "costs-droop": "costs {share:.0%} of the droop",
    "costs-bump": "costs {share:.0%} of the bump",
    "takes-roll": (
        "costs crossing up too: {most:angle} at most at any height, where it was {before:angle}"
    ),
    "takes-roll-past": _roll_past,
    "straps-stretch": "straps stretch and wear, so set them short by what they give",
    "ride-harder": "it rides harder",
    "takes-slip": "uses up {by:length} of {side}",
    "cut-weld-balance": "cut, weld and balance again",
    "shim-loads-pin": (
        "a shim this thick loads the center pin: fit longer pins, or turn the perches"
    ),
    "pinion-starves": "a pinion that points up this far can starve its front bearing of oil",
    "caster-changes": _caster,
    "costs-belly": "costs {by:length} of belly clearance",
    "watch-fan": "watch the fan, linkages and mounts",
    "watch-floor": "watch the floor, linkages and mounts",
    "front-section-changes": (
        "output to bearing gets {longer:length_size} {longer:?longer|shorter}: the bracket has to "
        "slide that far, or the front section is cut again"
    ),
    "less-room-under-shaft": "less room under the shaft",
    "bearing-near-floor": "watch the floor above, and whether the bracket goes up that far",
    "bearing-sits-square": (
        "the bearing has to sit square to the front section, or its rubber wears"
    ),
    "bar-can-jack": (
        "a bar can jack, hop or stop the axle from flexing if its far end is fixed; measure how "
        "much wrap it really leaves"
    ),
    "new-shaft-and-wheelbase": (
        "a new shaft, which whirls at a lower speed; setting the axle {goes} changes the wheelbase "
        "and the suspension mounts"
    ),
    "new-shaft-and-head": "a new shaft with a heavy double-Cardan",
    "no-shim-goes-so-far": (
        "no shim goes that far: cut and turn the perches, or fit adjustable arms"
    ),
    "thinner-rings": (
        "less metal around the bores; longer weld lands and other flanges, so cut and balance the "
        "tube again; what you measured of the old yokes is dropped: measure the new"
    ),
    "joints-weaker": "weaker joints: check them for torque first",
    "joints-stronger": "stronger and heavier",
    "new-yokes-and-tube": (
        "new yokes on the output and the pinion, and a tube cut and balanced to suit"
    ),
    "gains-length": "gains length, not angle",
    "less-tube": "a longer stub leaves less tube",
    "made-for-it": "not off the shelf: it has to be made",
    "barrel-wants-spline": (
        "the output shaft needs spline that far and the housing needs room for the barrel: measure "
        "both, few have it"
    ),
    "fixed-yoke-kit": (
        "a fixed-yoke kit for the case and a new shaft; the new joint is taken to sit where the "
        "old one does at ride height: measure where the kit puts it before you cut"
    ),
    "bearing-and-third-joint": (
        "a bearing with rubber that wears, a bracket, a third joint to grease; the rear section "
        "gets shorter and steeper, so it helps length and whirl more than angle"
    ),
}
"""What else it takes."""

WORSE: Final[Mapping[str, Sentence]] = {
    "takes-room": "the {joint} joint loses {less:angle} of room",
    "slip-then-short": _slip_short,
    "leaves-little-slip": ("leaves only {left:length_under {wanted}} of {side}"),
    "shakes-more": _shakes,
    "felt-above": _felt,
    "heads-not-ground": "grinding a double-Cardan is not figured here",
    "bends-too-far": "{bend:angle} is more than any single joint bends",
}
"""What it makes worse, and why grinding does not do instead."""

REMEDIES: Final[Mapping[str, Sentence]] = {**DOES, **COSTS, **WORSE}
