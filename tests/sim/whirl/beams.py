"""Beams without shear, and bounds of their critical speeds in closed form."""

from dataclasses import replace
from math import inf, pi, sin, sqrt

from sim.whirl import Beam, plain_tube


def slender(beam: Beam) -> Beam:
    """The same beam without shear, its sections without turning: Euler's and Bernoulli's."""
    return replace(
        beam, stretches=tuple(replace(each, shear=inf, turning=0.0) for each in beam.stretches)
    )


def rayleigh(section, length, made_of, masses=()):
    """Critical speed, rad/s, from the energy of a half sine: never under the true one.

    w^2 = E I (pi/L)^4 L/2 / (m' L/2 + sum m sin(pi x/L)^2); masses: (mm from the first joint, kg).
    """
    own = 0.5 * section.mass_per_length(made_of.density) * length
    carried = sum(kg * sin(pi * at / length) ** 2 for at, kg in masses)
    stiffness = 0.5 * made_of.modulus * section.second_moment * (pi / length) ** 4 * length
    return sqrt(1000.0 * stiffness / (own + carried))


def dunkerley(section, length, made_of, masses=()):
    """Critical speed, rad/s, with 1/w^2 added up over tube and masses: never over the true one.

    Each mass alone: 1/w^2 = m x^2 (L - x)^2 / (3 E I L); the rule is Dunkerley's, from memory.
    """
    stiffness = 1000.0 * made_of.modulus * section.second_moment
    slow = 1.0 / plain_tube(section, length, made_of) ** 2
    for at, kg in masses:
        slow += kg * (at * (length - at)) ** 2 / (3.0 * stiffness * length)
    return 1.0 / sqrt(slow)
