"""What of a yoke may be ground, and what never."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final, Literal

from geometry.mesh import Mesh
from geometry.yoke import Yoke

Never = Literal["hardware", "seat"]

HARD: Final[Mapping[str, Never]] = {
    "cap": "hardware",
    "strap": "hardware",
    "bolt": "hardware",
    "nut": "hardware",
    "snap ring": "hardware",
    "grease fitting": "hardware",
    "tube end": "seat",
    "weld shoulder": "seat",
    "flange": "seat",
    "sleeve": "seat",
    "hub": "seat",
    "seal guard": "seat",
    "seal housing": "seat",
}
"""Surfaces that are never ground. hardware: swap it for lower or smaller hardware instead. seat:
something is welded, bolted or sealed there. Common practice, no source."""


GROUND: Final = "ground"
"""Name of the surface that grinding leaves."""


@dataclass(frozen=True, eq=False)
class Grindable:
    """A yoke as it can be ground, in its yoke frame.

    contact : closed, everything that can touch, its surfaces named
    body : closed, the metal alone, with its bores and hollows open; what walls are measured in
    hard : names of surfaces of `contact` that are never ground, and why
    """

    contact: Mesh
    body: Mesh
    hard: Mapping[str, Never] = field(default_factory=lambda: HARD)


def grindable(yoke: Yoke) -> Grindable:
    """Give what of a built yoke may be ground."""
    return Grindable(yoke.contact, yoke.parts.get("body", yoke.contact))
