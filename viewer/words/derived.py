"""What was worked out from what was typed, and where it is from: a sentence for each code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_angle, format_length, format_spoken
from viewer.words.units import torque as torque_words


def _apart(length: float, taped: str | None) -> str:
    from_tape = "" if taped is None else f", {taped}"
    return f"joint centre to joint centre at ride height: {format_length(length)}{from_tape}"


def _taped(
    reads: str, at_output: str, at_pinion: str, output: str | None, pinion: str | None
) -> str:
    found = (
        f"from {reads} taped from the {at_output} at the output to the {at_pinion} at the pinion"
    )
    return "; ".join([found, *(source for source in (output, pinion) if source is not None)])


def _bottoms(out: float, barrel_start: float, closes: str) -> str:
    return (
        f"the joint stands {format_length(out)} out of the seal: {format_length(barrel_start)} of "
        f"the yoke before its barrel and {closes} that it still closes, the barrel taken to bottom "
        "at the seal (assumed); measure seal_to_joint"
    )


def _flange(behind: float, headed: bool) -> str:
    what = "the ball" if headed else "the joint centre"
    return f"the flange face lies {format_length(behind)} behind {what}"


def _lies(joint: str, ahead: float, left: float, up: float) -> str:
    return (
        f"the {joint} joint lies {_one_way(ahead, 'ahead of', 'behind')} the axle's centre, "
        f"{_one_way(left, 'left', 'right')}, {_one_way(up, 'up', 'down')}"
    )


def _one_way(mm: float, positive: str, negative: str) -> str:
    return f"{format_length(abs(mm))} {negative if mm < 0.0 else positive}"


def _points_down(rad: float) -> str:
    return _slope(rad, "down", "up")


def _points_left(rad: float) -> str:
    return _slope(rad, "left", "right")


def _slope(rad: float, positive: str, negative: str) -> str:
    spoken = format_spoken(rad, positive, negative)
    straight = spoken.split()[-1] == "deg"
    words = f"neither {positive} nor {negative}" if straight else spoken
    return f"the shaft points {words}, seen from the output"


def _lower(mm: float) -> str:
    return _offset(mm, "lower", "higher")


def _left(mm: float) -> str:
    return _offset(mm, "to the left", "to the right")


def _offset(mm: float, positive: str, negative: str) -> str:
    even = format_length(abs(mm)) == format_length(0.0)
    words = f"neither {positive} nor {negative}" if even else _one_way(mm, positive, negative)
    return f"the pinion joint sits {words}, seen from the output joint"


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


def _softest(bush: str, gives: float, bottoms: bool) -> str:
    more = "; that may be more than there is, and rubber at its end wraps less" if bottoms else ""
    return f"{bush} gives most, {format_length(gives)} at ride height{more}"


DERIVED: Final[Mapping[str, Sentence]] = {
    "joint-lies": _lies,
    "joints-apart": _apart,
    "shaft-points-down": _points_down,
    "shaft-points-left": _points_left,
    "pinion-lower": _lower,
    "pinion-left": _left,
    "front-section": (
        "the front section, output joint to middle joint: {length:length}, bent {bend:angle} at "
        "the output; what is seen from the output below is seen from the middle joint"
    ),
    "joint-bent": "the {joint} joint is bent {bend:angle} at ride height",
    "taped": _taped,
    "bearing-lies": "the bearing lies {beyond} before the middle joint",
    "out-of-seal": "the joint stands {out} out of the seal",
    "bottoms-at-seal": _bottoms,
    "shaft-end-out": "{seal}; the shaft's end stands {out} out",
    "inner-cross-lies": "the inner cross lies on the shaft's side of the ball",
    "outer-cross-lies": "the outer cross lies {behind:length} behind the ball",
    "flange-lies": _flange,
    "yoke-flat-lies": "the yoke's flat lies {behind:g} mm behind the joint centre",
    "tape-check-from": "tape check from the {place}: {source}",
    "assumed": "{what} assumed as {value}: {why}",
    "axle-wrap": _wrap,
    "wrap-hint": "axle wrap: {hint}",
    "by-angles": "two angles under a known torque",
    "by-bushes": "the give of the bushes",
    "by-mark": "a mark under a known torque",
    "by-springs": "the springs' wind-up",
    "bush-gives-most": _softest,
    "test-tells-nothing": (
        "the wrap of the test is no larger than its reading errors; test with more torque"
    ),
    "far-from-test": (
        "the torque meant is up to {times:.1f} times that of the test; springs and bushes get "
        "stiffer, so the wrap told is on the high side"
    ),
}
