"""Needles cut into slices: how stiff a slice is, how its ends fall away, where it still carries.

Constants of the slice model are those of [ISO16281] as a public implementation has them; that of
the long needle's ends is from memory. The law holds for a needle between both rings at once: the
approach of trunnion and cap is shared by its two line contacts, so a needle is in balance itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from math import pi
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from sim.bearing.needles import MODULUS, POISSON, BearingError, Needles
from sim.frames import FloatArray, read_only
from sim.quantities import require_fields

STIFFNESS = 35_948.0
"""N/mm^(10/9) of a needle 1 mm long between two rings; grows with length^(8/9) [ISO16281]."""

POWER = 10.0 / 9.0
"""Of the approach in the force of a slice [ISO16281]."""

SLICES = 30
"""The fewest that [ISO16281] asks for."""

CLEARANCE: Final = 0.02
"""mm on the diameter, between needles, trunnion and cap (from memory, generic)."""

Ends = Literal["relieved", "straight"]
"""How a needle ends: falling away as the standard has it, or with a sharp edge."""


@dataclass(frozen=True, eq=False)
class Row:
    """One cap's needles in slices, mm.

    Attributes
    ----------
    needles : sizes and how many.
    clearance : on the diameter, between needles, trunnion and cap.
    ends : of the needles.
    count : slices of a needle.
    bare : length at the outer end where there is no trunnion under the needle, as under a cap
        that is not home.
    lost : numbers of the needles that are not there; the rest keep their places.
    """

    needles: Needles
    clearance: float = 0.0
    ends: Ends = "relieved"
    count: int = SLICES
    bare: float = 0.0
    lost: tuple[int, ...] = field(default=())

    def __post_init__(self) -> None:
        require_fields(BearingError, self, "count", "clearance bare")
        if not self.bare < self.needles.length:
            raise BearingError(
                f"needles of {self.needles.length:g} mm: got {self.bare:g} mm beyond the end of "
                "their trunnion, expected some of them on it"
            )
        if len(set(self.lost)) != len(self.lost) or not all(
            0 <= number < self.needles.count for number in self.lost
        ):
            raise BearingError(
                f"needles lost: got {self.lost}, expected different numbers from 0 to "
                f"{self.needles.count - 1}"
            )
        if len(self.lost) >= self.needles.count - 2:
            raise BearingError(f"needles lost: got {len(self.lost)}, expected three left at least")

    @cached_property
    def along(self) -> FloatArray:
        """(k,) middle of each slice along the trunnion, from the needle's middle outward."""
        length = self.needles.length
        return read_only((np.arange(self.count) + 0.5) * (length / self.count) - 0.5 * length)

    @cached_property
    def bears(self) -> FloatArray:
        """(k,) share of each slice that lies on the trunnion."""
        outer = self.along + 0.5 * self.width
        share = (0.5 * self.needles.length - self.bare - outer) / self.width + 1.0
        return read_only(np.clip(share, 0.0, 1.0))

    @property
    def width(self) -> float:
        """Of a slice."""
        return self.needles.length / self.count

    @cached_property
    def stiffness(self) -> FloatArray:
        """(k,) N/mm^(10/9) of each slice, of what of it lies on the trunnion."""
        whole = STIFFNESS * self.needles.length ** (8.0 / 9.0) / self.count
        return read_only(whole * self.bears)

    @cached_property
    def relief(self) -> FloatArray:
        """(k,) what each slice's skin lies under a straight needle's, on one side."""
        if self.ends == "straight":
            return read_only(np.zeros(self.count))
        return read_only(relief(self.along, self.needles.diameter, self.needles.length))

    @cached_property
    def angles(self) -> FloatArray:
        """(z,) place of each needle round the trunnion, the first one at 0; those lost left out."""
        every = np.arange(self.needles.count)
        kept = np.setdiff1d(every, np.array(self.lost, dtype=int))
        return read_only(2.0 * pi / self.needles.count * kept)

    def carried(
        self, moved: FloatArray, leans: FloatArray, angle: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Force (N) and approach (mm) of every slice of a needle at each place, (n, z, k).

        moved, leans : (n, 2) of the trunnion in the cap, as of `balance`; angle : (n, z).
        c d^(10/9), and nothing where trunnion and needle are apart [ISO16281].
        """
        ways = ways_of(angle)
        middle = np.einsum("ni,nzi->nz", moved, ways) - 0.5 * self.clearance
        slope = np.einsum("ni,nzi->nz", leans, ways)
        apart = middle[:, :, None] + slope[:, :, None] * self.along - 2.0 * self.relief
        approach: FloatArray = np.maximum(apart, 0.0)
        return self.stiffness * approach**POWER, approach

    def pressure(self, force: FloatArray) -> FloatArray:
        """(..., k) greatest pressure (MPa) between trunnion and slices that carry forces (N).

        Hertz for two cylinders, sqrt(q E* / (pi R)), q the force a mm [BORESI, ch. 17].
        """
        needle, trunnion = self.needles.diameter, self.needles.trunnion
        radius = 0.5 * needle * trunnion / (needle + trunnion)
        modulus = MODULUS / (2.0 * (1.0 - POISSON**2))
        width = self.width * self.bears
        carried = np.divide(force, width, out=np.zeros_like(force), where=width > 0.0)
        return np.asarray(np.sqrt(carried * (modulus / (pi * radius))))


def ways_of(angle: FloatArray) -> FloatArray:
    """(..., 2) from a trunnion's middle to its needles."""
    return np.stack([np.cos(angle), np.sin(angle)], axis=-1)


def relief(along: ArrayLike, diameter: float, length: float) -> FloatArray:
    """How far a needle's skin falls away from a straight one, mm on the radius.

    along : from its middle, mm. A short one, up to 2.5 diameters, is rounded all along:
    0.00035 D ln(1 / (1 - (2x/L)^2)) [ISO16281]; a long one over 1.25 diameters at either end,
    0.0005 D ln(1 / (1 - ((2|x| - (L - 2.5 D)) / (2.5 D))^2)) [ISO16281, from memory].
    """
    x = np.abs(np.asarray(along, dtype=np.float64))
    if length <= 2.5 * diameter:
        share, deep = 2.0 * x / length, 0.00035
    else:
        ends = 2.5 * diameter
        share, deep = np.maximum((2.0 * x - (length - ends)) / ends, 0.0), 0.0005
    value: FloatArray = -deep * diameter * np.log1p(-(share**2))
    return value
