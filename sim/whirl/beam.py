"""A beam of finite elements that finds the speeds at which it bows out.

Straight elements with two deflections and two slopes; bending, and where wanted shear and the
turning of the sections (Timoshenko). Masses, springs, pins and hinges sit where stretches meet.
The element's matrices follow from the cubic that an unloaded stretch of beam bends to
[PRZEMIENIECKI, from memory]; the tests hold them to closed forms and to another library.

What whirls is taken to bow out in one plane: on round stiffness and round masses, as here, the
speed at which a turning shaft bows out is that at which it would swing when it stands still, but
for the gyroscopic turning of its sections. That is left out; it would raise the speed of a
driveshaft's tube by under half a percent.

Inside, mm, N, s need masses in tonnes: kg / 1000.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import accumulate
from math import ceil, inf, isinf

import numpy as np
from scipy.linalg import LinAlgError, eigh

from geometry.errors import BindpointError
from sim.frames import FloatArray
from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_fields
from sim.tolerances import TOL

ELEMENTS = 32
"""Elements over the whole length, two to a stretch at least: the first speed of a plain tube is
then too high by 1e-7 of itself, by 2e-5 with shear."""


class BeamError(BindpointError, ValueError):
    """Stretches, masses and supports that make no beam."""


@dataclass(frozen=True)
class Stretch:
    """A uniform stretch of the beam; N mm2, N, kg/mm, kg mm."""

    length: float
    bending: float
    """E I."""
    mass: float
    """Per mm."""
    shear: float = inf
    """k G A; endless for a beam that does not shear."""
    turning: float = 0.0
    """rho I, what its sections resist turning with, per mm."""

    def __post_init__(self) -> None:
        require_fields(BeamError, self, "length bending mass", "turning")
        if not self.shear > 0.0:
            raise BeamError(f"shear stiffness: got {self.shear}, expected a number above zero")

    @classmethod
    def of(cls, section: TubeSection, length: float, made_of: Material) -> Stretch:
        """Stretch of a tube or bar.

        A ring shears as if about half of its metal carried: k = 2 (1 + nu) / (4 + 3 nu) for a
        thin wall (Cowper, from memory).
        """
        bending = made_of.modulus * section.second_moment
        mass = section.mass_per_length(made_of.density)
        nu = made_of.poisson
        carries = 2.0 * (1.0 + nu) / (4.0 + 3.0 * nu)
        return cls(
            length,
            bending,
            mass,
            carries * made_of.shear_modulus * section.area,
            made_of.density * section.second_moment,
        )


@dataclass(frozen=True)
class Mass:
    """A lump between stretches: at the end of stretch number `after` (0: at the very start)."""

    after: int
    mass: float
    """kg."""
    turning: float = 0.0
    """kg mm2 about a diameter."""


@dataclass(frozen=True)
class Support:
    """A pin, or a spring, that holds the beam across at the end of stretch number `after`."""

    after: int
    stiffness: float = inf
    """N/mm across; endless for a pin. It never holds the slope: joints and bearings tilt."""

    def __post_init__(self) -> None:
        if not self.stiffness > 0.0:
            raise BeamError(f"support: got {self.stiffness} N/mm, expected a number above zero")


@dataclass(frozen=True)
class Beam:
    """Stretches end to end, with what sits between them."""

    stretches: tuple[Stretch, ...]
    supports: tuple[Support, ...]
    masses: tuple[Mass, ...] = ()
    hinges: tuple[int, ...] = ()
    """Ends of stretches where the next one joins with a slope of its own: joints."""

    def __post_init__(self) -> None:
        count = len(self.stretches)
        if count == 0:
            raise BeamError("beam: got no stretches, expected at least one")
        for what, places, last in (
            ("mass", [mass.after for mass in self.masses], count),
            ("support", [support.after for support in self.supports], count),
            ("hinge", list(self.hinges), count - 1),
        ):
            for after in places:
                if not (0 if what != "hinge" else 1) <= after <= last:
                    raise BeamError(
                        f"{what}: got the end of stretch {after}, there are {count} stretches"
                    )

    @property
    def length(self) -> float:
        """From end to end, mm."""
        return sum(stretch.length for stretch in self.stretches)

    def speeds(self, count: int = 3, elements: int = ELEMENTS) -> FloatArray:
        """First `count` critical speeds, rad/s, rising; some `elements` over the whole length.

        Raises BeamError where nothing holds the beam: it has to be unable to move as a whole.
        """
        stiffness, mass = self._matrices(elements)
        try:
            # The slow ones come out as the greatest of 1/w^2, which keeps their digits.
            slow = eigh(mass, stiffness, eigvals_only=True)[: -count - 1 : -1]
        except LinAlgError:
            slow = np.full(count, inf)
        if not slow[0] < TOL.held_speed**-2:
            raise BeamError(
                "beam: the supports let it move as a whole, expected two at different places, "
                "and one more for each hinge"
            )
        speeds: FloatArray = 1.0 / np.sqrt(slow)
        return speeds

    def _matrices(self, elements: int) -> tuple[FloatArray, FloatArray]:
        counts = [max(2, ceil(elements * s.length / self.length)) for s in self.stretches]
        nodes = [0, *accumulate(counts)]
        size = 2 * (nodes[-1] + 1) + len(self.hinges)
        stiffness, mass = np.zeros((size, size)), np.zeros((size, size))
        extra = {nodes[after]: size - 1 - i for i, after in enumerate(self.hinges)}
        for s, start, count in zip(self.stretches, nodes, counts, strict=False):
            piece = replace(s, length=s.length / count)
            own_stiffness, own_mass = element_stiffness(piece), element_mass(piece)
            for i in range(start, start + count):
                places = np.array([2 * i, extra.get(i, 2 * i + 1), 2 * i + 2, 2 * i + 3])
                across = np.ix_(places, places)
                stiffness[across] += own_stiffness
                mass[across] += own_mass
        for lump in self.masses:
            at = 2 * nodes[lump.after]
            mass[at, at] += lump.mass / 1000.0
            mass[at + 1, at + 1] += lump.turning / 1000.0
        held = []
        for support in self.supports:
            at = 2 * nodes[support.after]
            if isinf(support.stiffness):
                held.append(at)
            else:
                stiffness[at, at] += support.stiffness
        free = np.setdiff1d(np.arange(size), held)
        return stiffness[np.ix_(free, free)], mass[np.ix_(free, free)]


def element_stiffness(piece: Stretch) -> FloatArray:
    """(4, 4) N/mm, N, N mm for (deflection, slope) at either end."""
    length, phi = piece.length, _softness(piece)
    unit = piece.bending / ((1.0 + phi) * length**3)
    a, b, c = 6.0 * length, (4.0 + phi) * length**2, (2.0 - phi) * length**2
    found: FloatArray = unit * np.array(
        [[12.0, a, -12.0, a], [a, b, -a, c], [-12.0, -a, 12.0, -a], [a, c, -a, b]]
    )
    return found


def element_mass(piece: Stretch) -> FloatArray:
    """(4, 4) t, t mm, t mm2: what it weighs, and what its sections resist turning with."""
    length, phi = piece.length, _softness(piece)
    whole = piece.mass / 1000.0 * length / (1.0 + phi) ** 2
    f = 13.0 / 35.0 + 0.7 * phi + phi**2 / 3.0
    g = (11.0 / 210.0 + 11.0 / 120.0 * phi + phi**2 / 24.0) * length
    h = 9.0 / 70.0 + 0.3 * phi + phi**2 / 6.0
    j = (13.0 / 420.0 + 3.0 / 40.0 * phi + phi**2 / 24.0) * length
    k = (1.0 / 105.0 + phi / 60.0 + phi**2 / 120.0) * length**2
    m = (1.0 / 140.0 + phi / 60.0 + phi**2 / 120.0) * length**2
    moving = np.array([[f, g, h, -j], [g, k, j, -m], [h, j, f, -g], [-j, -m, -g, k]])
    turns = piece.turning / 1000.0 / (length * (1.0 + phi) ** 2)
    p, q = 1.2, (0.1 - 0.5 * phi) * length
    r = (2.0 / 15.0 + phi / 6.0 + phi**2 / 3.0) * length**2
    s = (1.0 / 30.0 + phi / 6.0 - phi**2 / 6.0) * length**2
    turning = np.array([[p, q, -p, q], [q, r, -q, -s], [-p, -q, p, -q], [q, -s, -q, r]])
    found: FloatArray = whole * moving + turns * turning
    return found


def _softness(piece: Stretch) -> float:
    """Shear against bending of an element: 12 E I / (k G A L^2)."""
    return 12.0 * piece.bending / (piece.shear * piece.length**2)
