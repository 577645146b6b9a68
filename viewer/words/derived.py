"""What was worked out from what was typed, and where it is from: a sentence for each code."""

from collections.abc import Callable, Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_angle, format_length, format_spoken
from viewer.words.units import torque as torque_words


def _slope(positive: str, negative: str, none: str) -> Callable[[float], str]:
    def words(rad: float) -> str:
        spoken = format_spoken(rad, positive, negative)
        if spoken.split()[-1] == "deg":
            return f"the shaft runs {none}"
        return f"the shaft points {spoken}, seen from the output"

    return words


def _offset(positive: str, negative: str, none: str) -> Callable[[float], str]:
    def words(mm: float) -> str:
        if format_length(abs(mm)) == format_length(0.0):
            return f"the pinion joint is {none} the output joint"
        way = f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"
        return f"the pinion joint is {way}, seen from the output joint"

    return words


def _joint_lies(joint: str, ahead: float, left: float, up: float) -> str:
    ways = (ahead, "ahead of", "behind"), (left, "left of", "right of"), (up, "above", "below")
    told = [
        f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"
        for mm, positive, negative in ways
        if format_length(abs(mm)) != format_length(0.0)
    ]
    return f"the {joint} joint is {', '.join(told) or 'at'} the axle center"


def _wrap(
    way: str,
    value: float,
    low: float,
    high: float,
    known_by: str,
    torque: float,
    driving: bool,
    governs: str,
) -> str:
    least, most = (format_angle(each).removesuffix(" deg") for each in (low, high))
    sets = "low gear sets it" if governs == "engine" else "tire grip sets it"
    return (
        f"axle wrap, nose {way}: about {format_angle(value)} ({least} to {most}), from {known_by}; "
        f"{torque_words(torque)} at the axle {'driving' if driving else 'braking'}, {sets}; "
        f"{format_angle(high)} is used"
    )


DERIVED: Final[Mapping[str, Sentence]] = {
    "joint-lies": _joint_lies,
    "joints-apart": (
        "joint center to joint center at ride height: {length:length}{taped:after , }"
    ),
    "shaft-points-down": _slope("down", "up", "level"),
    "shaft-points-left": _slope("left", "right", "straight, with no side angle"),
    "pinion-lower": _offset("lower", "higher", "level with"),
    "pinion-left": _offset("to the left", "to the right", "in line with"),
    "front-section": (
        "the front section, output joint to middle joint: {length:length}, bent {bend:angle} at "
        "the output; below, *seen from the output* means from the middle joint"
    ),
    "joint-bent": "the {joint} joint is bent {bend:angle} at ride height",
    "taped": (
        "from {reads} taped from the {at_output} at the output to the {at_pinion} at the "
        "pinion{output:after ; }{pinion:after ; }"
    ),
    "bearing-lies": "the bearing sits {beyond} short of the middle joint",
    "out-of-seal": "the joint stands {out} out of the seal",
    "bottoms-at-seal": (
        "the joint stands {out:length} out of the seal: {barrel_start:length} of yoke before its "
        "barrel and {closes} left to close, if the barrel bottoms at the seal (assumed); measure "
        "seal_to_joint"
    ),
    "shaft-end-out": "{seal}; the shaft's end stands {out} out",
    "inner-cross-lies": "the inner cross sits on the shaft's side of the ball",
    "outer-cross-lies": "the outer cross sits {behind:length} behind the ball",
    "flange-lies": (
        "the flange face sits {behind:length} behind {headed:?the ball|the joint center}"
    ),
    "yoke-flat-lies": "the yoke flat sits {behind:fine} behind the joint center",
    "tape-check-from": "tape check from the {place}: {source}",
    "assumed": "{what} taken as {value}: {why}",
    "axle-wrap": _wrap,
    "wrap-hint": "axle wrap: {hint}",
    "by-angles": "two angles under a known torque",
    "by-bushes": "the give of the bushings",
    "by-mark": "a mark under a known torque",
    "by-springs": "the springs' wind-up",
    "bush-gives-most": (
        "{bush} gives most, {gives:length} at ride "
        "height{bottoms:?; that may be more than it has, and rubber on its stop wraps less|}"
    ),
    "test-tells-nothing": (
        "the test wrapped no more than its reading errors; test with more torque"
    ),
    "far-from-test": (
        "the torque here is up to {times:.1f} times that of the test; springs and bushings get "
        "stiffer, so this wrap is on the high side"
    ),
}
