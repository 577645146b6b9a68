"""What a measurement is called within a sentence: "the pinion's slope"."""

import re
from collections.abc import Mapping
from typing import Final

from viewer.words.keys import label_of


def reading_name(key: str) -> str:
    """A measurement, dimension or assumption by its key path, to stand within a sentence."""
    plain = re.sub(r"\[\d+\]", "", key)
    if plain in _NAMES:
        return _NAMES[plain]
    table, _, last = plain.rpartition(".")
    if table in _YOKES:
        return f"the {_DIMENSIONS.get(last, last.replace('_', ' '))} of the {_YOKES[table]}"
    head, _, _ = plain.partition(".")
    name = label_of(plain)
    return f"the {name[:1].lower()}{name[1:]}{_OF.get(head, '')}"


_PINION: Final = "the pinion's slope"
_OUTPUT: Final = "the output's slope"
_SHAFT: Final = "the shaft's slope"
_DROP: Final = "the drop from output joint to pinion joint"
_OFFSET: Final = "the side offset of the pinion"

_NAMES: Final[Mapping[str, str]] = {
    "output.joint": "the place of the output joint",
    "output.points_down": _OUTPUT,
    "output.points_up": _OUTPUT,
    "output.points_left": "the output's side angle",
    "output.points_right": "the output's side angle",
    "ride_height.length": "the length, joint center to joint center",
    "ride_height.tape.reads": "the length that was taped",
    "ride_height.tape.stick_out": "how far the output shaft sticks out",
    "ride_height.tape.seal_to_joint": "seal to joint center",
    "ride_height.shaft_points_down": _SHAFT,
    "ride_height.shaft_points_up": _SHAFT,
    "ride_height.shaft_points_left": "the shaft's side angle",
    "ride_height.shaft_points_right": "the shaft's side angle",
    "ride_height.pinion_lower": _DROP,
    "ride_height.pinion_higher": _DROP,
    "ride_height.pinion_left": _OFFSET,
    "ride_height.pinion_right": _OFFSET,
    "axle.pinion_joint": "the place of the pinion joint",
    "axle.snout": "axle center to pinion joint",
    "axle.points_up": _PINION,
    "axle.points_down": _PINION,
    "axle.points_left": "the pinion's side angle",
    "axle.points_right": "the pinion's side angle",
    "axle.wrap_centre": "the pivot of the axle wrap",
    "travel.bump": "the bump",
    "travel.droop": "the droop",
    "travel.roll": "how far it crosses up",
    "travel.stops_apart": "stops, left to right",
    "travel.nose_up": "the wrap, nose up",
    "travel.nose_down": "the wrap, nose down",
    "travel.wrap_at_droop": "the wrap left at full droop",
    "shaft.slip.closes": "how far the slip closes",
    "shaft.slip.opens": "how far the slip opens",
    "shaft.slip.comes_apart": "where the slip comes apart",
    "shaft.phase": "how the ears stand against each other",
    "shaft.tube.outside": "the tube's outside",
    "carrier.phase": "how the front section's ears stand",
    "carrier.middle_joint_beyond": "bearing to middle joint",
}
"""By key path, what the names of the schema say too shortly when its table is not beside them."""

_YOKES: Final[Mapping[str, str]] = {
    "shaft.output_end.output_yoke": "output yoke",
    "shaft.output_end.shaft_yoke": "shaft yoke at the output",
    "shaft.output_end.head": "double-Cardan at the output",
    "shaft.pinion_end.shaft_yoke": "shaft yoke at the pinion",
    "shaft.pinion_end.pinion_yoke": "pinion yoke",
    "shaft.pinion_end.head": "double-Cardan at the pinion",
    "carrier.middle.front_yoke": "front section's yoke in the middle",
    "carrier.middle.shaft_yoke": "shaft yoke in the middle",
}
"""By table, every yoke of a joint."""

_DIMENSIONS: Final[Mapping[str, str]] = {"throat_depth": "throat"}
"""Dimensions that a shop calls otherwise than their key."""

_OF: Final[Mapping[str, str]] = {
    "suspension": " (suspension)",
    "surroundings": " (things near the shaft)",
    "wrap": " (wrap test)",
    "carrier": " (carrier bearing)",
    "axle": " (axle)",
    "output": " (output)",
}
"""Where a measurement of a table is taken, for those that no name says."""
