"""What is wrong with a rig file where it takes numbers to say it: why, and what is expected."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_length


def _less_travel(most: float) -> str:
    return f"{f'at most {format_length(most)}' if most else 'no travel'}, or other links"


PROBLEMS: Final[Mapping[str, Sentence]] = {
    "longer-than-apart": (
        "more than {apart:length}, the distance of the joints in height and sideways"
    ),
    "length-as-given": (
        "{length:length} as the {by} give, within {within:fraction}{is_level:?; the length came "
        "out as the level distance, measure along the shaft|}"
    ),
    "slope-as-given": ("{slope:angle {positive}|{negative}} as the {by} give, within 1 deg"),
    "offset-as-given": "{offset:length} {word} as the {by} give, within {within:fraction}",
    "from-pinion-joint": "{apart:length} from the pinion joint",
    "pinion-joint-lies": "the pinion joint lies {along:length} {where} it",
    "middle-joint-lies": "the middle joint lies {apart:length} {where} the pinion joint",
    "bends-joint": "bends the {joint} joint {bend:angle} at ride height",
    "more-than-yokes-take": (
        "more than the {taken:length} that yokes take up there, from joint centre to weld land; "
        "was the right datum taken?"
    ),
    "leaves-room": (
        "leaves {room:length} {front_tube:?for the front tube and its yoke|between the joint "
        "centres}"
    ),
    "leaves-less-than-yokes": "leaves {length:length}, shorter than two yokes",
    "tape-as-joints-lie": (
        "{reads:length} between these two places as the joints lie, within {within:fraction}"
    ),
    "length-as-file": "{length:length} as the rest of the file gives, within {within:fraction}",
    "slope-as-axle": ("{up:angle up|down} as [axle] says, within 1 deg"),
    "length-about": (
        "about {length:length}, give or take {within:length}; are bump and droop mixed up?"
    ),
    "axle-would-move": (
        "{longer:?longer|shorter} than at ride height, so the axle would have to move "
        "{moves:length} fore-aft at {at}"
    ),
    "axle-end-farther": (
        "{axle:length} from the axle, while its chassis end is only {chassis:length} from it"
    ),
    "less-travel-or-links": _less_travel,
}
