"""What is known of the shape of a joint, told as touch: forecasts for any shape it may have."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from sim.frames import FloatArray
from sim.vehicle import Joint


@dataclass(frozen=True)
class Free:
    """One dimension of a joint's yokes that nobody knows exactly.

    Attributes
    ----------
    key : key path in the rig, such as `shaft.pinion_end.pinion_yoke.throat_depth`.
    yoke : key of its yoke at the joint, such as `pinion_yoke`.
    name : as in the catalogue, such as `throat_depth`.
    value : middle of what it may be, mm.
    off : 95 of 100 are no farther off, mm.
    measured : whether it was read with a caliper; else the spread of real yokes.
    """

    key: str
    yoke: str
    name: str
    value: float
    off: float
    measured: bool


class Shape(Protocol):
    """A joint whose dimensions are in doubt.

    Draws are told by standard normals `z` (n, d), independent of each other, of which every one is
    a dimension where no bench reading ties them together.
    """

    @property
    def joint(self) -> Joint:
        """Which joint."""

    @property
    def free(self) -> tuple[Free, ...]:
        """Its dimensions in doubt, a column of a draw each."""

    @property
    def forecast_off(self) -> float:
        """95 of 100 forecasts of the lowest touch are no farther (rad) off the full curve.

        inf where nothing is known of it yet.
        """

    @property
    def later(self) -> float:
        """By how much later (rad) the middle one touches than the yokes that the check has."""

    def dimensions(self, z: FloatArray) -> FloatArray:
        """Dimensions (n, len(free)), mm, of draws (n, d)."""

    def clear(self, z: FloatArray) -> FloatArray:
        """Forecast of the certified clear bend (n,), rad, of draws (n, d)."""

    def keeps(self, z: FloatArray) -> FloatArray:
        """The same of the bend up to which the gap wanted is left."""
