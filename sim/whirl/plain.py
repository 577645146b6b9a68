"""The critical speed of a plain tube on two joints, in closed form, and with masses on it.

Speeds in rad/s, lengths in mm, masses in kg; the factor 1000 turns N/mm and kg into 1/s2.
"""

from collections.abc import Sequence
from math import pi, sin, sqrt

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_positive
from sim.whirl.beam import BeamError

PointMass = tuple[float, float]
"""Where (mm from the first joint) and how much (kg)."""


def plain_tube(section: TubeSection, length: float, made_of: Material) -> float:
    """First critical speed, rad/s, of a uniform tube pinned at both ends.

    (pi/L)^2 sqrt(E I / m'), which for a tube is (pi^2/4) sqrt(E/rho) sqrt(D^2 + d^2) / L^2:
    the formula of the trade, 1.21e8 sqrt(D^2 + d^2) / L^2 in rpm and mm for steel (read on a
    technical page of the trade, without a name). Shear is left out; it takes some 1 % off.
    """
    require_positive(BeamError, length=length)
    mass = section.mass_per_length(made_of.density)
    stiffness = made_of.modulus * section.second_moment
    return (pi / length) ** 2 * sqrt(1000.0 * stiffness / mass)


def longest_plain_tube(section: TubeSection, speed: float, made_of: Material) -> float:
    """Length (mm) between the joints at which that critical speed is `speed` (rad/s)."""
    require_positive(BeamError, speed=speed)
    return sqrt(plain_tube(section, 1.0, made_of) / speed)


def rayleigh(
    section: TubeSection, length: float, made_of: Material, masses: Sequence[PointMass] = ()
) -> float:
    """Critical speed, rad/s, from the energy of a half sine: never under the true one.

    w^2 = E I (pi/L)^4 L/2 / (m' L/2 + sum m sin(pi x/L)^2). [derivation]
    """
    _on_the_shaft(length, masses)
    own = 0.5 * section.mass_per_length(made_of.density) * length
    carried = sum(kg * sin(pi * at / length) ** 2 for at, kg in masses)
    stiffness = 0.5 * made_of.modulus * section.second_moment * (pi / length) ** 4 * length
    return sqrt(1000.0 * stiffness / (own + carried))


def dunkerley(
    section: TubeSection, length: float, made_of: Material, masses: Sequence[PointMass] = ()
) -> float:
    """Critical speed, rad/s, with 1/w^2 added up over tube and masses: never over the true one.

    Each mass alone: 1/w^2 = m x^2 (L - x)^2 / (3 E I L). [derivation]; the rule is Dunkerley's,
    from memory.
    """
    _on_the_shaft(length, masses)
    stiffness = 1000.0 * made_of.modulus * section.second_moment
    slow = 1.0 / plain_tube(section, length, made_of) ** 2
    for at, kg in masses:
        slow += kg * (at * (length - at)) ** 2 / (3.0 * stiffness * length)
    return 1.0 / sqrt(slow)


def _on_the_shaft(length: float, masses: Sequence[PointMass]) -> None:
    require_positive(BeamError, length=length)
    for at, kg in masses:
        if not (0.0 <= at <= length and kg >= 0.0):
            raise BeamError(
                f"mass: got {kg:g} kg at {at:g} mm, expected no less than 0 kg between 0 and "
                f"{length:g} mm"
            )
