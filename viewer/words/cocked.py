"""Caps that sit crooked: how each came to, and what was assumed; a sentence by code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence

COCKED: Final[Mapping[str, Sentence]] = {
    "everyday-torque-assumed": (
        "the rig tells nothing of engine and top gear, so the needles were asked at {torque:torque}"
        ", {share:percent} of what would first dent a straight joint of this size"
    ),
    "hardest-pull-assumed": (
        "the rig tells nothing of low gear or wheel slip, so the hardest pull was taken as "
        "{torque:torque}, {share:percent} of what would first dent a straight joint of this size"
    ),
    "cap-tilt-stated": "it was told to sit {tilt:angle} crooked",
}
