"""What was worked out from what was typed, and where it is from: a sentence for each code."""

from collections.abc import Callable, Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_angle, format_length, format_spoken
from viewer.words.units import torque as torque_words


def _slope(positive: str, negative: str) -> Callable[[float], str]:
    def words(rad: float) -> str:
        spoken = format_spoken(rad, positive, negative)
        if spoken.split()[-1] == "deg":
            spoken = f"neither {positive} nor {negative}"
        return f"the shaft points {spoken}, seen from the output"

    return words


def _offset(positive: str, negative: str) -> Callable[[float], str]:
    def words(mm: float) -> str:
        way = f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"
        if format_length(abs(mm)) == format_length(0.0):
            way = f"neither {positive} nor {negative}"
        return f"the pinion joint sits {way}, seen from the output joint"

    return words


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
    sets = "low gear governs" if governs == "engine" else "the grip of the tyres governs"
    return (
        f"axle wrap, nose {way}: about {format_angle(value)} ({least} to {most}), from {known_by}; "
        f"{torque_words(torque)} at the axle {'driving' if driving else 'braking'}, {sets}; "
        f"{format_angle(high)} is swept"
    )


DERIVED: Final[Mapping[str, Sentence]] = {
    "joint-lies": (
        "the {joint} joint lies {ahead:length ahead of|behind} the axle's centre, "
        "{left:length left|right}, {up:length up|down}"
    ),
    "joints-apart": (
        "joint centre to joint centre at ride height: {length:length}{taped:after , }"
    ),
    "shaft-points-down": _slope("down", "up"),
    "shaft-points-left": _slope("left", "right"),
    "pinion-lower": _offset("lower", "higher"),
    "pinion-left": _offset("to the left", "to the right"),
    "front-section": (
        "the front section, output joint to middle joint: {length:length}, bent {bend:angle} at "
        "the output; what is seen from the output below is seen from the middle joint"
    ),
    "joint-bent": "the {joint} joint is bent {bend:angle} at ride height",
    "taped": (
        "from {reads} taped from the {at_output} at the output to the {at_pinion} at the "
        "pinion{output:after ; }{pinion:after ; }"
    ),
    "bearing-lies": "the bearing lies {beyond} before the middle joint",
    "out-of-seal": "the joint stands {out} out of the seal",
    "bottoms-at-seal": (
        "the joint stands {out:length} out of the seal: {barrel_start:length} of the yoke before "
        "its barrel and {closes} that it still closes, the barrel taken to bottom at the seal "
        "(assumed); measure seal_to_joint"
    ),
    "shaft-end-out": "{seal}; the shaft's end stands {out} out",
    "inner-cross-lies": "the inner cross lies on the shaft's side of the ball",
    "outer-cross-lies": "the outer cross lies {behind:length} behind the ball",
    "flange-lies": (
        "the flange face lies {behind:length} behind {headed:?the ball|the joint centre}"
    ),
    "yoke-flat-lies": "the yoke's flat lies {behind:g} mm behind the joint centre",
    "tape-check-from": "tape check from the {place}: {source}",
    "assumed": "{what} assumed as {value}: {why}",
    "axle-wrap": _wrap,
    "wrap-hint": "axle wrap: {hint}",
    "by-angles": "two angles under a known torque",
    "by-bushes": "the give of the bushes",
    "by-mark": "a mark under a known torque",
    "by-springs": "the springs' wind-up",
    "bush-gives-most": (
        "{bush} gives most, {gives:length} at ride "
        "height{bottoms:?; that may be more than there is, and rubber at its end wraps less|}"
    ),
    "test-tells-nothing": (
        "the wrap of the test is no larger than its reading errors; test with more torque"
    ),
    "far-from-test": (
        "the torque meant is up to {times:.1f} times that of the test; springs and bushes get "
        "stiffer, so the wrap told is on the high side"
    ),
}
