"""The critical speed of a plain tube on two joints, in closed form.

Speeds in rad/s, lengths in mm, masses in kg; the factor 1000 turns N/mm and kg into 1/s2.
"""

from math import pi, sqrt

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_positive
from sim.whirl.beam import BeamError


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
