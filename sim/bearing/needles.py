"""A cap's needles: what they carry, by the equations of the bearing standards.

The standards say of themselves that they do not hold for rollers that run right on a shaft unless
that surface equals a bearing's raceway [ISO281, scope], and a cross is that case. Take the ratings
as a scale that compares one joint with another.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import asin, floor, pi, sqrt

from geometry.errors import BindpointError
from sim.quantities import require_fields, require_not_negative, require_positive

DRAWN_CUP = 1.0
"""Rating factor b_m of needles in a drawn cup; 1.1 with machined rings [ISO281, from memory]."""

MODULUS = 207_000.0
POISSON = 0.3
"""Of bearing steel, MPa and 1 (from memory)."""

STATIC_PRESSURE = 4000.0
"""Pressure of the most loaded roller that static ratings stand for, MPa [ISO76, scope]."""


class BearingError(BindpointError, ValueError):
    """Needles, loads or speeds that no bearing has."""


@dataclass(frozen=True)
class Needles:
    """One row of needles on a trunnion, mm."""

    diameter: float
    length: float
    """Over which a needle carries."""
    trunnion: float
    """Diameter they run on."""
    count: int

    def __post_init__(self) -> None:
        require_fields(BearingError, self, "diameter length trunnion count")
        most = full_complement(self.diameter, self.trunnion)
        if self.count > most:
            raise BearingError(
                f"needles: got {self.count} of {self.diameter:g} mm round {self.trunnion:g} mm, "
                f"at most {most} go in"
            )

    @classmethod
    def full(cls, diameter: float, length: float, trunnion: float) -> Needles:
        """As many needles as go in: a full complement, as crosses have."""
        return cls(diameter, length, trunnion, full_complement(diameter, trunnion))

    @property
    def pitch_diameter(self) -> float:
        """Circle of the needles' middles, mm."""
        return self.trunnion + self.diameter

    @property
    def gamma(self) -> float:
        """Needle over pitch diameter."""
        return self.diameter / self.pitch_diameter

    @property
    def rating_factor(self) -> float:
        """f_c of a radial roller bearing [ISO281, from memory]; held to its table in the tests."""
        g = self.gamma
        ratio = (1.0 - g) / (1.0 + g)
        inner = 1.0 + (1.04 * ratio ** (143.0 / 108.0)) ** 4.5
        first = 207.9 * 0.83 * g ** (2.0 / 9.0) * (1.0 - g) ** (29.0 / 27.0)
        return float(first / (1.0 + g) ** 0.25 * inner ** (-2.0 / 9.0))

    def dynamic_rating(self, factor: float = DRAWN_CUP) -> float:
        """C, N: b_m f_c L^(7/9) Z^(3/4) D^(29/27) [ISO281, from memory]."""
        require_positive(BearingError, rating_factor=factor)
        size = self.length ** (7.0 / 9.0) * self.count**0.75 * self.diameter ** (29.0 / 27.0)
        return float(factor * self.rating_factor * size)

    @property
    def static_rating(self) -> float:
        """C0, N: 44 (1 - gamma) Z L D [ISO76, from memory]; 4000 MPa at the top needle."""
        return 44.0 * (1.0 - self.gamma) * self.count * self.length * self.diameter

    def contact_pressure(self, load: float) -> float:
        """Pressure (MPa) between trunnion and most loaded needle under a load (N) on the cap.

        That needle carries 5 P / Z with ordinary clearance [from memory]; Hertz for two
        cylinders: 2 Q / (pi b L), b = sqrt(4 Q R / (pi L E*)) [BORESI, ch. 17].
        """
        require_not_negative(BearingError, load=load)
        most = 5.0 * load / self.count
        radius = 0.5 * self.diameter * self.trunnion / (self.diameter + self.trunnion)
        return hertz_line(most, self.length, radius, MODULUS / (2.0 * (1.0 - POISSON**2)))

    @property
    def overlap_swing(self) -> float:
        """Bend (rad) under which the needles' paths no longer meet on the inner raceway.

        A joint swings its caps by the bend either way, twice the bend in all; that has to take
        each needle to where the next one started: 2 b = 4 pi / (Z (1 + gamma)), from rolling
        without slip [derivation]; others define it differently [MENCK]. Below it, the life
        formula is outside its theory and the needles print their own lines into the trunnion.
        """
        return 2.0 * pi / (self.count * (1.0 + self.gamma))


def full_complement(diameter: float, trunnion: float) -> int:
    """How many needles go round a trunnion side by side: floor(pi / asin(D / D_pitch))."""
    require_positive(BearingError, needle_diameter=diameter, trunnion_diameter=trunnion)
    return floor(pi / asin(diameter / (trunnion + diameter)) + 1e-9)


def hertz_line(force: float, length: float, radius: float, modulus: float) -> float:
    """Greatest pressure (MPa) of two cylinders: sqrt(F E* / (pi L R)) [BORESI, ch. 17].

    radius : of both together, 1/R = 1/R1 + 1/R2, mm; modulus : 1/E* = sum (1 - nu^2)/E, MPa.
    """
    require_positive(BearingError, length=length, radius=radius, modulus=modulus)
    return sqrt(force * modulus / (pi * length * radius))
