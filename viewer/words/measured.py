"""Words for what the rig was told, to stand under a picture: measurements first, then the parts."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.rig import Rig
from sim.table.default import at
from sim.vehicle import Joint


def measured_words(rig: Rig) -> str:
    """One line on the measurements that somebody gave: "Measured: output 3 deg down, ..."."""
    typed = rig.typed()
    return f"Measured: {'; '.join(_measured(typed))}."


def parts_words(rig: Rig, joint: Joint) -> str:
    """One line on the parts of a joint that somebody named; "" where nobody did.

    A yoke from the catalog has the usual shape of its kind; one with sizes of its own says so.
    """
    typed = rig.typed()
    found = ((part, at(typed, f"{_ENDS[joint]}.{part}")) for part in _PARTS)
    named = [_part(part, each) for part, each in found if each is not None]
    return f"Parts at the {joint} joint, as named: {', '.join(named)}." if named else ""


def _measured(typed: Mapping[str, Any]) -> Iterator[str]:
    for title, phrases in _PHRASES:
        said = [
            words.format(found)
            for key, words in phrases.items()
            if (found := at(typed, key)) is not None
        ]
        if said:
            yield f"{title}{', '.join(said)}"


def _part(key: str, typed: Any) -> str:
    own = isinstance(typed, Mapping)
    name = str(typed.get("kind", typed.get("size", "own")) if own else typed)
    name = f"{name} cross" if key == "cross" else name
    return f"{name} with its own sizes" if own and len(typed) > 1 else name


_ENDS: Final[Mapping[Joint, str]] = {
    "output": "shaft.output_end",
    "middle": "carrier.middle",
    "pinion": "shaft.pinion_end",
}

_PARTS: Final = ("cross", "head", "output_yoke", "front_yoke", "shaft_yoke", "pinion_yoke")

_PHRASES: Final[tuple[tuple[str, Mapping[str, str]], ...]] = (
    (
        "",
        {
            "output.points_down": "output {} down",
            "output.points_up": "output {} up",
            "axle.points_up": "pinion {} up",
            "axle.points_down": "pinion {} down",
            "ride_height.shaft_points_down": "shaft {} down",
            "ride_height.shaft_points_up": "shaft {} up",
            "ride_height.length": "shaft {} joint to joint",
            "output.joint": "where both joints are",
        },
    ),
    ("carrier bearing ", {"carrier.bearing": "where it hangs"}),
    ("", {"travel.bump": "{} of bump", "travel.droop": "{} of droop"}),
    ("", {"travel.roll": "crossed up {} each way"}),
    ("axle wrap ", {"travel.nose_up": "{} nose up", "travel.nose_down": "{} nose down"}),
    ("axle wrap ", {"wrap.kind": "worked out from what was read"}),
    ("shaft at several heights ", {"suspension.readings": "by tape and angle finder"}),
    ("springs ", {"suspension.fixed_eye": "at eyes and seat"}),
    ("links ", {"suspension.links": "at both ends", "suspension.arms": "at both ends"}),
    (
        "slip ",
        {
            "shaft.slip.closes": "{} to close",
            "shaft.slip.opens": "{} to open",
            "shaft.slip.comes_apart": "{} to come apart",
        },
    ),
    ("what is near the shaft", {"surroundings": ""}),
)
"""What is said of each key that was typed, in the order of a shop's sheet."""
