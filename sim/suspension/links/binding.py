"""Whether the links of a rig file bind, told from its plain data before anything is built."""

from collections.abc import Mapping
from typing import Any, Final

FREEDOMS: Final = 4
"""What links have to hold of an axle at a given height and roll."""


def conditions(suspension: Any) -> int:
    """How many conditions the members of a [suspension] table set; 0 for another kind."""
    if not isinstance(suspension, Mapping) or suspension.get("kind") != "links":
        return 0
    count = sum(
        each * sum(_sides(member) for member in _tables(suspension.get(key)))
        for key, each in (("links", 1), ("wishbones", 2), ("arms", 3))
    )
    for bar in _tables([suspension.get("track_bar")]):
        count += _sides(bar)
    for arm in _tables([suspension.get("torque_arm")]):
        count += _sides(arm) * (3 if arm.get("held_by") == "ball" else 1)
    return count


def binds(data: Mapping[str, Any]) -> bool:
    """Whether a rig file's links set more conditions than an axle has freedoms."""
    return conditions(data.get("suspension")) > FREEDOMS


def _tables(value: Any) -> list[Mapping[str, Any]]:
    return [each for each in value if isinstance(each, Mapping)] if isinstance(value, list) else []


def _sides(member: Mapping[str, Any]) -> int:
    return 2 if member.get("mirrored") is True else 1
