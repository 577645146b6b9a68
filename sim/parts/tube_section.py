"""The round section of a tube: area, moments, torsion. Elementary statics [derivation]."""

from dataclasses import dataclass
from math import pi

from geometry.errors import BindpointError
from sim.quantities import require_not_negative, require_positive


class SectionError(BindpointError, ValueError):
    """Diameters that make no tube."""


@dataclass(frozen=True)
class TubeSection:
    """Outside diameter and bore, mm; a bore of 0 is a solid bar."""

    outside: float
    bore: float = 0.0

    def __post_init__(self) -> None:
        require_positive(SectionError, outside=self.outside)
        require_not_negative(SectionError, bore=self.bore)
        if not self.bore < self.outside:
            raise SectionError(
                f"tube: got a bore of {self.bore:g} mm in an outside diameter of "
                f"{self.outside:g} mm, expected a smaller one"
            )

    @classmethod
    def of_wall(cls, outside: float, wall: float) -> "TubeSection":
        """Tube by its outside diameter and wall, mm."""
        require_positive(SectionError, wall=wall)
        if not wall <= 0.5 * outside:
            raise SectionError(
                f"tube: got a wall of {wall:g} mm in an outside diameter of {outside:g} mm, "
                "expected at most half of it"
            )
        return cls(outside, outside - 2.0 * wall)

    @property
    def wall(self) -> float:
        """Wall, mm."""
        return 0.5 * (self.outside - self.bore)

    @property
    def mean_radius(self) -> float:
        """Radius of the middle of the wall, mm."""
        return 0.25 * (self.outside + self.bore)

    @property
    def area(self) -> float:
        """Metal, mm2."""
        return 0.25 * pi * (self.outside**2 - self.bore**2)

    @property
    def second_moment(self) -> float:
        """For bending, mm4: pi (D^4 - d^4) / 64."""
        return pi * (self.outside**4 - self.bore**4) / 64.0

    @property
    def polar_moment(self) -> float:
        """For torsion, mm4: pi (D^4 - d^4) / 32."""
        return 2.0 * self.second_moment

    def torsion(self, torque: float) -> float:
        """Greatest shear stress (MPa) under a torque (N mm): T D / (2 J)."""
        return 0.5 * torque * self.outside / self.polar_moment

    def bending(self, moment: float) -> float:
        """Greatest bending stress (MPa) under a moment (N mm): M D / (2 I)."""
        return 0.5 * moment * self.outside / self.second_moment

    def across(self, force: float) -> float:
        """Greatest shear stress (MPa) of a force (N) across, at the middle of the section.

        F Q / (I 2 wall) with Q the first moment of the half ring: 4/3 of the mean for a solid
        bar, twice the mean for a thin wall.
        """
        first = (self.outside**3 - self.bore**3) / 12.0
        return force * first / (self.second_moment * (self.outside - self.bore))

    def torsion_stiffness(self, length: float, shear_modulus: float) -> float:
        """Torque for a turn of one rad over a length (mm), N mm/rad: G J / L."""
        require_positive(SectionError, length=length, shear_modulus=shear_modulus)
        return shear_modulus * self.polar_moment / length

    def mass_per_length(self, density: float) -> float:
        """kg/mm for a density in kg/mm3."""
        return density * self.area
