"""What is wrong with a rig file where it takes numbers to say it: why, and what is expected."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_fraction, format_length, format_spoken


def _length_as_given(length: float, by: str, within: float, is_level: bool) -> str:
    hint = "; the length came out as the level distance, measure along the shaft"
    return (
        f"{format_length(length)} as the {by} give, within "
        f"{format_fraction(within)}{hint if is_level else ''}"
    )


def _slope_as_given(slope: float, positive: str, negative: str, by: str) -> str:
    return f"{format_spoken(slope, positive, negative)} as the {by} give, within 1 deg"


def _slope_as_axle(up: float) -> str:
    return f"{format_spoken(up, 'up', 'down')} as [axle] says, within 1 deg"


def _would_move(longer: bool, moves: float, at: str) -> str:
    return (
        f"{'longer' if longer else 'shorter'} than at ride height, so the axle would have to move "
        f"{format_length(moves)} fore-aft at {at}"
    )


def _leaves(room: float, front_tube: bool) -> str:
    where = "for the front tube and its yoke" if front_tube else "between the joint centres"
    return f"leaves {format_length(room)} {where}"


def _less_travel(most: float) -> str:
    return f"{f'at most {format_length(most)}' if most else 'no travel'}, or other links"


PROBLEMS: Final[Mapping[str, Sentence]] = {
    "longer-than-apart": (
        "more than {apart:length}, the distance of the joints in height and sideways"
    ),
    "length-as-given": _length_as_given,
    "slope-as-given": _slope_as_given,
    "offset-as-given": "{offset:length} {word} as the {by} give, within {within:fraction}",
    "from-pinion-joint": "{apart:length} from the pinion joint",
    "pinion-joint-lies": "the pinion joint lies {along:length} {where} it",
    "middle-joint-lies": "the middle joint lies {apart:length} {where} the pinion joint",
    "bends-joint": "bends the {joint} joint {bend:angle} at ride height",
    "more-than-yokes-take": (
        "more than the {taken:length} that yokes take up there, from joint centre to weld land; "
        "was the right datum taken?"
    ),
    "leaves-room": _leaves,
    "leaves-less-than-yokes": "leaves {length:length}, shorter than two yokes",
    "tape-as-joints-lie": (
        "{reads:length} between these two places as the joints lie, within {within:fraction}"
    ),
    "length-as-file": "{length:length} as the rest of the file gives, within {within:fraction}",
    "slope-as-axle": _slope_as_axle,
    "length-about": (
        "about {length:length}, give or take {within:length}; are bump and droop mixed up?"
    ),
    "axle-would-move": _would_move,
    "axle-end-farther": (
        "{axle:length} from the axle, while its chassis end is only {chassis:length} from it"
    ),
    "less-travel-or-links": _less_travel,
}
