"""The critical speed of a one-piece shaft: tube, yokes at its ends, slip, joints as pins."""

from dataclasses import dataclass
from itertools import accumulate, pairwise
from math import inf

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_not_negative, require_positive
from sim.tolerances import TOL
from sim.whirl.beam import Beam, BeamError, Mass, Stretch, Support

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
    slip_mass: float = 0.0
    """What the slip weighs more than a tube of its length, kg."""
    slip_at: float | None = None
    """From the first joint to the slip's middle; the middle of the shaft when left out, which
    is the worst place for it."""
    slip: tuple[Stretch, ...] = ()
    """The slip by its own sections in place of so much tube; then it is no lump."""
    slip_from: float = 0.0
    """From the first joint to where those begin."""

    def __post_init__(self) -> None:
        require_positive(BeamError, length=self.length)
        require_not_negative(
            BeamError,
            first_land=self.first_land,
            last_land=self.last_land,
            slip_mass=self.slip_mass,
        )
        for mass in (self.first_mass, self.last_mass):
            if mass is not None:
                require_positive(BeamError, yoke_mass=mass)
        if not self.tube_length > 0.0:
            raise BeamError(
                f"shaft: got yokes of {self.first_land:g} and {self.last_land:g} mm on a length "
                f"of {self.length:g} mm, expected some tube between them"
            )
        if self.slip_at is not None and not self.first_land < self.slip_at < self.length - (
            self.last_land
        ):
            raise BeamError(
                f"slip: got {self.slip_at:g} mm from the first joint, expected a place between "
                f"{self.first_land:g} and {self.length - self.last_land:g} mm"
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
        slip = sum(stretch.mass * stretch.length for stretch in self.slip) + self.slip_mass
        return tube * (self.tube_length - self.slip_length) + yokes + slip


def middle_of_mass(piece: Piece) -> float:
    """From the first joint to the middle of mass of all that lies between the joints, mm."""
    stretches, masses = piece_stretches(piece)
    ends = [0.0, *accumulate(stretch.length for stretch in stretches)]
    weights = [
        (s.mass * s.length, 0.5 * (a + b))
        for s, (a, b) in zip(stretches, pairwise(ends), strict=True)
    ]
    weights += [(lump.mass, ends[lump.after]) for lump in masses]
    whole = sum(weight for weight, _ in weights)
    return sum(weight * at for weight, at in weights) / whole


def piece_stretches(piece: Piece, shear: bool = True) -> tuple[list[Stretch], list[Mass]]:
    """Stretches from joint to joint, yokes spread over their lands, with the lumps between them.

    A lump is a slip of which only the weight is known.
    """
    tube = Stretch.of(piece.section, 1.0, piece.made_of, shear)

    def tube_of(length: float) -> Stretch:
        return Stretch(length, tube.bending, tube.mass, tube.shear, tube.turning)

    def yoke(land: float, mass: float | None) -> list[Stretch]:
        if land == 0.0:
            return []
        stiff = YOKE_STIFFER * tube.bending
        spread = tube.mass if mass is None else mass / land
        return [Stretch(land, stiff, spread, YOKE_STIFFER * tube.shear, tube.turning)]

    first = yoke(piece.first_land, piece.first_mass)
    last = yoke(piece.last_land, piece.last_mass)
    if piece.slip:
        before = piece.slip_from - piece.first_land
        after_it = piece.tube_length - before - piece.slip_length
        ahead = [tube_of(before)] if before > TOL.same_place else []
        behind = [tube_of(after_it)] if after_it > TOL.same_place else []
        return [*first, *ahead, *piece.slip, *behind, *last], []
    tubes = [tube_of(piece.tube_length)]
    slip = 0.5 * piece.length if piece.slip_at is None else piece.slip_at
    along = min(max(slip - piece.first_land, 0.0), piece.tube_length)
    after = len(first) + (along > TOL.same_place)
    if TOL.same_place < along < piece.tube_length - TOL.same_place:
        tubes = [tube_of(along), tube_of(piece.tube_length - along)]
    masses = [Mass(after, piece.slip_mass)] if piece.slip_mass > 0.0 else []
    return [*first, *tubes, *last], masses


def piece_beam(
    piece: Piece, first_support: float = inf, last_support: float = inf, shear: bool = True
) -> Beam:
    """The shaft on its two joints; supports in N/mm, endless for what does not give.

    Gearbox tail and axle give in truth, which lowers the speed; how much is known only by
    test. A lump right on a pin does not move, so a yoke without a land takes no part.
    """
    stretches, masses = piece_stretches(piece, shear)
    supports = (Support(0, first_support), Support(len(stretches), last_support))
    return Beam(tuple(stretches), supports, tuple(masses))


def one_piece_speed(
    piece: Piece, first_support: float = inf, last_support: float = inf, shear: bool = True
) -> float:
    """First critical speed of a one-piece shaft, rad/s; see `piece_beam`."""
    return float(piece_beam(piece, first_support, last_support, shear).speeds(1)[0])
