"""A piece of a shaft from joint to joint as a beam sees it: tube, yokes at its ends, slip."""

from dataclasses import dataclass, replace
from itertools import accumulate, pairwise

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_fields
from sim.tolerances import TOL
from sim.whirl.beam import BeamError, Stretch

YOKE_STIFFER = 3.0
"""How much stiffer than the tube the stretch from the joint to the weld is taken to be: a forging
has more metal but is cut out by its throat (from memory). Doubling it changes the speed little;
the tests say how little."""


@dataclass(frozen=True)
class Piece:
    """A shaft or a section of one from joint centre to joint centre; mm and kg."""

    length: float
    """Joint centre to joint centre."""
    section: TubeSection
    made_of: Material
    first_land: float = 0.0
    """From the first joint's centre to the tube's end."""
    last_land: float = 0.0
    """The same at the last joint."""
    first_mass: float | None = None
    """Yoke at the first joint with its share of the cross, kg, spread over its land; as heavy as
    so much tube when left out."""
    last_mass: float | None = None
    slip: tuple[Stretch, ...] = ()
    """The slip by its own sections in place of so much tube."""
    slip_from: float = 0.0
    """From the first joint to where those begin."""

    def __post_init__(self) -> None:
        require_fields(BeamError, self, "length first_mass last_mass", "first_land last_land")
        if not self.tube_length > 0.0:
            raise BeamError(
                f"shaft: got yokes of {self.first_land:g} and {self.last_land:g} mm on a length "
                f"of {self.length:g} mm, expected some tube between them"
            )
        if self.slip and not (
            self.first_land <= self.slip_from
            and self.slip_from + self.slip_length <= self.length - self.last_land
        ):
            raise BeamError(
                f"slip: got one of {self.slip_length:g} mm from {self.slip_from:g} mm on, expected "
                f"it between {self.first_land:g} and {self.length - self.last_land:g} mm"
            )

    @property
    def slip_length(self) -> float:
        """Of the slip by its own sections, mm."""
        return sum(stretch.length for stretch in self.slip)

    @property
    def tube_length(self) -> float:
        """Between the yokes, mm: tube, and slip by its own sections."""
        return self.length - self.first_land - self.last_land

    @property
    def mass(self) -> float:
        """All of it, kg."""
        tube = self.section.mass_per_length(self.made_of.density)
        ends = ((self.first_land, self.first_mass), (self.last_land, self.last_mass))
        yokes = sum(tube * land if mass is None else mass for land, mass in ends)
        slip = sum(stretch.mass * stretch.length for stretch in self.slip)
        return tube * (self.tube_length - self.slip_length) + yokes + slip

    @property
    def middle_of_mass(self) -> float:
        """From the first joint to the middle of mass of all that lies between the joints, mm."""
        stretches = self.stretches()
        ends = [0.0, *accumulate(stretch.length for stretch in stretches)]
        weights = [
            (s.mass * s.length, 0.5 * (a + b))
            for s, (a, b) in zip(stretches, pairwise(ends), strict=True)
        ]
        return sum(weight * at for weight, at in weights) / sum(weight for weight, _ in weights)

    def stretches(self) -> list[Stretch]:
        """Stretches from joint to joint, the yokes spread over their lands."""
        tube = Stretch.of(self.section, 1.0, self.made_of)
        before = (self.slip_from if self.slip else self.length - self.last_land) - self.first_land
        behind = self.tube_length - before - self.slip_length
        return [
            *_yoke(tube, self.first_land, self.first_mass),
            *([replace(tube, length=before)] if before > TOL.same_place else []),
            *self.slip,
            *([replace(tube, length=behind)] if behind > TOL.same_place else []),
            *_yoke(tube, self.last_land, self.last_mass),
        ]


def _yoke(tube: Stretch, land: float, mass: float | None) -> list[Stretch]:
    """A yoke spread over its land (mm); a lump right on a pin does not move and takes no part."""
    if land == 0.0:
        return []
    spread = tube.mass if mass is None else mass / land
    stiff, shear = YOKE_STIFFER * tube.bending, YOKE_STIFFER * tube.shear
    return [Stretch(land, stiff, spread, shear, tube.turning)]
