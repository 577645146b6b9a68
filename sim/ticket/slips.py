"""The slip that is built in: one of the catalogue by its stroke, or the one the rig speaks of."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from geometry.slip import SlipShape
from sim.parts.catalogue import slip_shape
from sim.rig import Rig

LEAST_DIAMETERS, GOOD_DIAMETERS = 1.5, 2.0
"""Spline diameters that stay engaged at the least, and that are wanted (common practice, no
source)."""

NECK_ROOM = 15.0
"""mm. Smooth neck of a stub beyond what it closes (from memory)."""


@dataclass(frozen=True)
class SlipPart:
    """A slip in a shaft.

    Attributes
    ----------
    name : of the catalogue, or "slip as described".
    shape : its dimensions, generic.
    """

    name: str
    shape: SlipShape

    @property
    def stroke(self) -> float:
        """From bottomed until the splines part, mm."""
        return self.shape.sleeve_depth

    @property
    def pushed_home(self) -> float:
        """From weld land to weld land when it is bottomed, mm."""
        return self.shape.between_lands(self.shape.sleeve_depth)

    @property
    def spline_diameter(self) -> float:
        """Of the stub over its teeth, mm."""
        return self.shape.spline_diameter

    @property
    def usable(self) -> float:
        """From bottomed to where just enough spline is wanted to stay engaged, mm."""
        return self.stroke - GOOD_DIAMETERS * self.spline_diameter


def slip_parts(rig: Rig) -> tuple[SlipPart, ...]:
    """Every slip of the catalogue for the rig's tube and smaller cross, the shortest first."""
    return tuple(SlipPart(name, _shape(rig, own)) for name, own in _strokes().items())


def described_slip(rig: Rig, apart: float) -> SlipPart:
    """A slip with just the stroke that the rig describes: it parts `apart` mm from ride height."""
    closes = rig.shaft.slip.closes.mm
    own = {
        "sleeve_depth": closes + apart,
        "spline_length": apart,
        "neck_length": closes + NECK_ROOM,
    }
    return SlipPart("slip as described", _shape(rig, own))


def _shape(rig: Rig, own: Mapping[str, float]) -> SlipShape:
    tube = rig.shaft.tube
    return slip_shape(rig.shaft.pinion_end.cross.name, tube.outside.mm, tube.wall.mm, own)


@cache
def _strokes() -> dict[str, dict[str, float]]:
    text = files("models").joinpath("catalogue", "slips.toml").read_text(encoding="utf-8")
    data: dict[str, Any] = tomllib.loads(text)
    return {name: table for name, table in data.items() if isinstance(table, dict)}
