"""Words for what a finding rests on that nobody gave: each assumed value as a shop would say it."""

from collections.abc import Iterable, Mapping
from typing import Final

from sim.findings import Finding
from sim.rig import Assumed
from sim.rig.typed_joints import GenericParts
from viewer.words.bench import FITTED


def assumed_words(finding: Finding) -> str:
    """One line on everything that a finding rests on and nobody gave; "" where it is nothing.

    Generic parts of a joint that the sentence of the finding names are not said again.
    """
    said = [_phrase(each) for each in finding.rests_on if not _is_led(finding, each)]
    return f"Assumed: {'; '.join(said)}." if said else ""


def assumed_short(rests_on: Iterable[Assumed]) -> str:
    """The same in a few names for where there is little room; "" where it is nothing."""
    names = dict.fromkeys(_PHRASES[each.key][0] for each in rests_on)
    return f"Assumed: {', '.join(names)}" if names else ""


def generic_words(parts: GenericParts | None) -> str:
    """What stands in for the parts of a joint that nobody named; "" where all were named."""
    if not parts:
        return ""
    if parts.cross is not None:
        return f"a generic {parts.cross} joint"
    if len(parts.yokes) > 1:
        return "generic yokes"
    names = [*([parts.head] if parts.head is not None else []), *parts.yokes]
    return " and ".join(f"a generic {name}" for name in names)


def joint_words(joint: str, parts: GenericParts | None, fitted: bool) -> str:
    """A joint to begin a sentence with, after what stands in for its own parts.

    fitted : whether its yokes come of bench readings.
    """
    words = stand_in_words(parts, fitted)
    return f"With {words} the {joint} joint" if words else f"The {joint} joint"


def stand_in_words(parts: GenericParts | None, fitted: bool) -> str:
    """What stands in for the parts of a joint: generic ones, or yokes that readings made."""
    return f"yokes {FITTED}," if fitted else generic_words(parts)


def _is_led(finding: Finding, each: Assumed) -> bool:
    """Whether the sentence itself names it: parts of a joint that are generic."""
    if not finding.detail.get("generic"):
        return False
    joint = finding.detail.get("joint", finding.subject)
    table, part = each.key.rsplit(".", maxsplit=1)
    return part in _PARTS and table in (f"shaft.{joint}_end", f"carrier.{joint}")


_PARTS: Final = (
    "cross",
    "head",
    "output_yoke",
    "shaft_yoke",
    "front_yoke",
    "pinion_yoke",
)
"""Last words of the keys of parts of a joint."""


def _phrase(each: Assumed) -> str:
    _, phrase = _PHRASES[each.key]
    return phrase.format(each.value)


_STRAIGHT: Final = "side angles"
_DRIVE: Final = "drive"
_JOINT: Final = "joint"

_PHRASES: Final[Mapping[str, tuple[str, str]]] = {
    "output.points_left": (_STRAIGHT, "no side angle at the output"),
    "ride_height.shaft_points_left": (_STRAIGHT, "no side offset"),
    "axle.position": ("axle", "a {} axle"),
    "axle.snout": ("snout", "a snout of {}"),
    "axle.points_left": (_STRAIGHT, "no side angle at the pinion"),
    "axle.wrap_centre": ("wrap", "the housing wraps about its own center"),
    "travel.roll": ("roll", "{} of roll"),
    "travel.stops_apart": ("roll", "stops {} apart"),
    "travel.droop_strap": ("roll", "straps or shocks at the {}"),
    "travel.wrap_at_droop": ("wrap", "{} of the wrap at full droop"),
    "travel.nose_up": ("wrap", "{} of wrap nose up"),
    "travel.nose_down": ("wrap", "{} of wrap nose down"),
    "wrap.drive.low_range": (_DRIVE, "no low range"),
    "wrap.drive.converter": (_DRIVE, "a clutch"),
    "wrap.drive.efficiency": (_DRIVE, "an efficiency of {}"),
    "wrap.drive.friction": (_DRIVE, "tire grip of {}"),
    "suspension.kind": ("suspension", "the axle goes straight up and down"),
    "suspension.bush_stiffness": ("bushings", "bushings of {}"),
    "suspension.most_give": ("bushings", "bushings that give {}"),
    "shaft.tube.outside": ("tube", "a {} tube"),
    "shaft.tube.wall": ("tube", "a wall of {}"),
    "shaft.slip.at": ("slip", "the slip is in the {}"),
    "shaft.slip.closes": ("slip", "the slip closes {}"),
    "shaft.slip.opens": ("slip", "the slip opens {}"),
    "shaft.output_end.joint": (_JOINT, "one cross at the output"),
    "shaft.output_end.cross": (_JOINT, "a generic {} cross at the output"),
    "shaft.output_end.output_yoke": (_JOINT, "a generic {} on the output"),
    "shaft.output_end.shaft_yoke": (_JOINT, "a generic {} at the output end"),
    "shaft.output_end.head": (_JOINT, "a generic {} at the output"),
    "shaft.pinion_end.joint": (_JOINT, "one cross at the pinion"),
    "shaft.pinion_end.cross": (_JOINT, "a generic {} cross at the pinion"),
    "shaft.pinion_end.shaft_yoke": (_JOINT, "a generic {} at the pinion end"),
    "shaft.pinion_end.pinion_yoke": (_JOINT, "a generic {} on the pinion"),
    "shaft.pinion_end.head": (_JOINT, "a generic {} at the pinion"),
    "carrier.middle_joint_beyond": ("bearing", "the middle joint {} beyond the bearing"),
    "carrier.phase": ("phase", "the front section's ears are in line"),
    "carrier.middle.joint": (_JOINT, "one cross in the middle"),
    "carrier.middle.cross": (_JOINT, "a generic {} cross in the middle"),
    "carrier.middle.front_yoke": (_JOINT, "a generic {} on the front section"),
    "carrier.middle.shaft_yoke": (_JOINT, "a generic {} at the middle joint"),
    "shaft.phase": ("phase", "the ears at both ends are in line"),
    "wanted.bend": ("reserve", "{} of bend wanted"),
    "wanted.gap": ("reserve", "{} of gap wanted"),
    "wanted.clearance": ("reserve", "{} of clearance wanted"),
    "wanted.slip": ("reserve", "{} of slip wanted"),
}
"""By key path: a name for where there is little room, and what is assumed in a few words."""
