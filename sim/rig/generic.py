"""Which parts of a joint nobody named, so that generic ones stand in for them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from sim.rig.carrier import MiddleJoint
from sim.rig.choice import YokeChoice
from sim.rig.rig import Rig
from sim.rig.shaft import OutputEnd, PinionEnd

_TABLES: Final = {
    "output": "shaft.output_end",
    "middle": "carrier.middle",
    "pinion": "shaft.pinion_end",
}
YOKES_OF: Final[dict[type, tuple[str, str]]] = {
    OutputEnd: ("output_yoke", "shaft_yoke"),
    PinionEnd: ("shaft_yoke", "pinion_yoke"),
    MiddleJoint: ("front_yoke", "shaft_yoke"),
}
"""Keys of both yokes of a joint, from the engine on."""


@dataclass(frozen=True)
class GenericParts:
    """Parts of a joint that stand in for what nobody named.

    Attributes
    ----------
    cross : size of the cross; None where it was named.
    head : kind of the double-Cardan head; None where it was named or there is none.
    yokes : kinds of the yokes that were not named, from the engine on.
    """

    cross: str | None = None
    head: str | None = None
    yokes: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        """Whether anything of the joint is generic in place of a named part."""
        return bool(self.cross or self.head or self.yokes)


def generic_parts(rig: Rig, joint: Literal["output", "middle", "pinion"]) -> GenericParts:
    """What nobody named of a joint of a rig."""
    table, shaft = _TABLES[joint], rig.shaft
    end: OutputEnd | PinionEnd | MiddleJoint = shaft.output_end
    if joint == "pinion":
        end = shaft.pinion_end
    elif joint == "middle" and rig.carrier is not None:
        end = rig.carrier.middle
    assumed = {each.key for each in rig.assumed}
    head = getattr(end, "head", None)

    def unnamed() -> Iterator[str]:
        for key in YOKES_OF[type(end)]:
            yoke: YokeChoice = getattr(end, key)
            if f"{table}.{key}" in assumed:
                yield yoke.name

    return GenericParts(
        cross=end.cross.name if f"{table}.cross" in assumed else None,
        head=head.name if head is not None and f"{table}.head" in assumed else None,
        yokes=tuple(unnamed()),
    )
