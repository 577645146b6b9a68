"""The numbers behind a shake, and what turns the ears: a sentence by code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import POUND_FOOT, POUND_FORCE, format_angle, turned


def _pull(pull: float) -> str:
    return f"one ounce at one inch pulls {pull / POUND_FORCE:.0f} lb at that speed"


def _pushes(bend: float, push: float) -> str:
    pounds = push * 100.0 * POUND_FOOT / POUND_FORCE
    return (
        f"the middle joint is bent {format_angle(bend)}; every 100 lb-ft in the shaft then shoves "
        f"the bearing by up to {pounds:.0f} lb, twice a turn"
    )


def _ears(to: float, front: float | None) -> str:
    if front is None:
        return f"Turn the ears: pinion end against output end {turned(to)}, seen from the output"
    return (
        f"Turn the ears, seen from the output: front section {turned(front)}, rear section "
        f"{turned(to)}"
    )


SHAKES: Final[Mapping[str, Sentence]] = {
    "joints-bent": "the {joint} joint is then bent {bend:angle}",
    "ounce-inch-pulls": _pull,
    "wound-up": (
        "with the axle wound up {wrap:angle nose up|nose down} the joints turn the pinion as "
        "unevenly as one joint bent {like:angle}"
    ),
    "whirl-share": "it runs at {share:percent} of the speed it whirls at, {critical:rpm}",
    "whirl-at-half": "it runs at about half of the speed it whirls at, {critical:rpm}",
    "pushes-bearing": _pushes,
    "ears-turned": _ears,
}
