"""Critical speeds against scikit-fem, printed numbers and closed forms of beams."""

from dataclasses import replace
from itertools import pairwise
from math import cos, cosh, pi, sin, sinh, sqrt

import numpy as np
import pytest
from scipy.linalg import eigh
from scipy.optimize import brentq
from skfem import Basis, BilinearForm, ElementLineHermite, MeshLine
from skfem.helpers import dd, ddot

from sim.parts.catalogue import slip_shape
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.whirl import (
    SAFE_SHARE,
    Beam,
    Mass,
    Piece,
    Stretch,
    Support,
    plain_tube,
    shaft_beam,
    shaft_speed,
    slip_stretches,
)
from tests.sim.whirl.beams import dunkerley, rayleigh, slender

RPM = 30.0 / pi
INCH = 25.4
STEEL = material("drawn steel tube")
"""E 206.8 GPa and 7850 kg/m3, as the printed numbers have it."""
TUBES = [(3.0, 0.083, 48.0), (3.0, 0.120, 48.0), (3.5, 0.083, 60.0), (4.0, 0.134, 60.0)]


def tube(outside, wall):
    return TubeSection.of_wall(outside * INCH, wall * INCH)


def library(lengths, bending, mass, lumps=(), pins=(), springs=(), hinge=None, per_stretch=14):
    """First speeds (rad/s) by scikit-fem's Hermite beam: stretches with their own EI and mass."""

    def matrices(which):
        ends = np.concatenate([[0.0], np.cumsum([lengths[i] for i in which])])
        nodes = np.unique(
            np.concatenate([np.linspace(a, b, per_stretch + 1) for a, b in pairwise(ends)])
        )
        mesh = MeshLine(nodes)
        basis = Basis(mesh, ElementLineHermite())

        def of(values, x):
            place = np.clip(np.searchsorted(ends, x[0], side="right") - 1, 0, len(which) - 1)
            return np.asarray(values)[np.asarray(which)[place]]

        k = BilinearForm(lambda u, v, w: of(bending, w.x) * ddot(dd(u), dd(v))).assemble(basis)
        m = BilinearForm(lambda u, v, w: of(mass, w.x) / 1e3 * u * v).assemble(basis)
        across = [basis.nodal_dofs[0, np.argmin(np.abs(mesh.p[0] - end))] for end in ends]
        return k.toarray(), m.toarray(), across

    count = len(lengths)
    if hinge is None:
        k, m, across = matrices(list(range(count)))
        join = np.eye(len(k))
    else:
        k1, m1, first = matrices(list(range(hinge)))
        k2, m2, second = matrices(list(range(hinge, count)))
        size = len(k1) + len(k2)
        k, m = np.zeros((size, size)), np.zeros((size, size))
        k[: len(k1), : len(k1)], k[len(k1) :, len(k1) :] = k1, k2
        m[: len(k1), : len(k1)], m[len(k1) :, len(k1) :] = m1, m2
        across = [*first, *(len(k1) + at for at in second[1:])]
        doubled = len(k1) + second[0]
        join = np.delete(np.eye(size), doubled, axis=1)
        join[doubled, first[-1] - (first[-1] > doubled)] = 1.0
    for after, kg in lumps:
        m[across[after], across[after]] += kg / 1e3
    for after, stiff in springs:
        k[across[after], across[after]] += stiff
    held = join[[across[after] for after in pins]]
    free = join[:, ~held.any(axis=0)]
    slow = eigh(free.T @ m @ free, free.T @ k @ free, eigvals_only=True)
    return 1.0 / np.sqrt(slow[:-4:-1])


@pytest.mark.parametrize(
    ("size", "euler"), list(zip(TUBES, (8528.30, 8424.0, 6392.98, 7235.2), strict=True))
)
def test_plain_tubes_that_do_not_shear(size, euler):
    """Worked apart, and measured with two libraries; half of the last printed digit."""
    outside, wall, length = size
    section = tube(outside, wall)
    off = 0.005 if euler in (8528.30, 6392.98) else 0.05
    assert plain_tube(section, length * INCH, STEEL) * RPM == pytest.approx(euler, abs=off)
    shaft = slender(shaft_beam([Piece(length * INCH, section, STEEL)])).speeds(1)[0]
    assert shaft * RPM == pytest.approx(euler, abs=off)
    assert shaft >= plain_tube(section, length * INCH, STEEL)


@pytest.mark.parametrize(
    ("outside", "wall", "length", "printed", "measured"),
    [
        (3.0, 0.083, 48.0, 8416.15, 8416.279),
        (3.5, 0.083, 60.0, 6318.94, 6319.021),
        (4.0, 0.134, 36.0, None, 19_311.761),
    ],
)
def test_plain_tubes_that_shear(outside, wall, length, printed, measured):
    """Timoshenko's beam worked apart, and a rotor library (another shear factor: 1e-4)."""
    found = shaft_speed([Piece(length * INCH, tube(outside, wall), STEEL)]) * RPM
    assert found == pytest.approx(measured, rel=1e-4)
    if printed:
        assert found == pytest.approx(printed, rel=1e-5)


@pytest.mark.parametrize("size", TUBES)
def test_formula_of_the_trade(size):
    """1.21e8 sqrt(D^2 + d^2) / L^2 in mm, 4.8e6 in inches: 0.8 % high by rounding, so 1 %."""
    outside, wall, length = size
    inside = outside - 2.0 * wall
    told = plain_tube(tube(outside, wall), length * INCH, STEEL) * RPM
    spread = sqrt(outside**2 + inside**2)
    assert told == pytest.approx(1.21e8 * INCH * spread / (length * INCH) ** 2, rel=0.01)
    assert told == pytest.approx(4.8e6 * spread / length**2, rel=0.01)


def test_longest_one_piece_shaft_of_the_trade():
    """About 65 to 70 in (common practice, no source): that of a 3 in tube at 0.7 of its critical
    speed and 2850 rpm, which the trade has for 65 mph on 35 in tyres and 4.56."""
    wanted = 2850.0 / RPM / SAFE_SHARE
    short, long = (plain_tube(tube(3.0, 0.083), far * INCH, STEEL) for far in (65.0, 70.0))
    assert short > wanted > long


def test_a_bar_by_its_own_weight():
    """1 in steel bar, 31 in span, own mass: 520.304 rad/s worked apart, 520 in a textbook (from
    memory, with E 30e6 psi and 0.282 lb/in3); 2e-4 for its rounded gravity."""
    bar = Stretch(31.0 * INCH, 30e6 * 0.00689475729 * pi / 64.0 * INCH**4,
                  0.282 * 0.45359237 / INCH**3 * pi / 4.0 * INCH**2)  # fmt: skip
    found = Beam((bar,), (Support(0), Support(1))).speeds(1)[0]
    assert found == pytest.approx(520.304, rel=2e-4)


def test_a_light_shaft_with_a_weight_in_the_middle():
    """20 mm, 0.6 m, 1 kg in the middle, 40 000 kg/m3, E 200 GPa: 43.326 Hz by Dunkerley with
    0.4985 and 1.27, worked apart. Those two constants are rounded and count the own mass of the
    shaft at 1/1.27; with the exact ones Dunkerley's rule lies lower, and the truth above."""
    section = TubeSection(20.0)
    heavy = material("drawn steel tube", modulus=200e3, density=4e-5)
    weight = [(300.0, 1.0)]
    beam = Beam(
        (Stretch.of(section, 300.0, heavy),) * 2,
        (Support(0), Support(2)),
        (Mass(1, 1.0),),
    )
    exact = slender(beam).speeds(1)[0] / (2.0 * pi)
    low = dunkerley(section, 600.0, heavy, weight) / (2.0 * pi)
    high = rayleigh(section, 600.0, heavy, weight) / (2.0 * pi)
    assert low < exact < high
    assert exact == pytest.approx(43.326, rel=0.01)


def test_a_shaft_lumped_in_the_middle_reads_a_third_low():
    """A textbook's 4 ft shaft has 5800 rpm only with all of its mass lumped at mid-span; spread
    out it has 8262.3: worked apart, 5799.9 / 8262.3."""
    section = TubeSection.of_wall(3.0 * INCH, 0.125 * INCH)
    length = 48.0 * INCH
    weightless = Stretch(0.5 * length, STEEL.modulus * section.second_moment, 1e-12)
    mass = section.mass_per_length(STEEL.density) * length
    beam = Beam((weightless,) * 2, (Support(0), Support(2)), (Mass(1, mass),))
    share = beam.speeds(1)[0] / plain_tube(section, length, STEEL)
    assert share == pytest.approx(5799.9 / 8262.3, rel=1e-5)


def test_a_whole_shaft_with_yokes_and_slip():
    """Yokes spread over their lands, a lump off the middle, against scikit-fem."""
    section = tube(3.0, 0.083)
    bending = STEEL.modulus * section.second_moment
    own = section.mass_per_length(STEEL.density)
    before = (Stretch.of(section, 296.0, STEEL),)
    piece = Piece(1200.0, section, STEEL, 54.0, 60.0, 1.6, 1.9, slip=before, slip_from=54.0)
    beam = replace(slender(shaft_beam([piece])), masses=(Mass(2, 2.4),))
    found = beam.speeds(1)[0]
    lengths = [54.0, 296.0, 790.0, 60.0]
    told = library(
        lengths,
        np.array([3.0, 1.0, 1.0, 3.0]) * bending,
        np.array([1.6 / 54.0, own, own, 1.9 / 60.0]),
        lumps=[(2, 2.4)],
        pins=[0, 4],
    )
    assert found == pytest.approx(told[0], rel=1e-6)


@pytest.mark.parametrize("bracket", [40.0, 400.0, 1e5])
def test_a_two_piece_shaft_on_a_rubber_bracket(bracket):
    """Front section, bearing on a spring with a mass, hinge, rear section, against scikit-fem."""
    section = tube(2.5, 0.083)
    bending = STEEL.modulus * section.second_moment
    own = section.mass_per_length(STEEL.density)
    front = Piece(800.0, section, STEEL, 50.0, 50.0, 1.5, 1.5)
    ahead = (Stretch.of(section, 500.0, STEEL),)
    rear = Piece(1100.0, section, STEEL, 50.0, 55.0, 1.5, 1.7, slip=ahead, slip_from=50.0)
    beam = slender(shaft_beam([front, rear], 120.0))
    near, held, far = beam.supports
    found = replace(
        beam,
        supports=(near, Support(held.after, bracket), far),
        masses=(Mass(held.after, 0.8), Mass(6, 2.0)),
    ).speeds(1)[0]
    lengths = [50.0, 350.0, 280.0, 70.0, 50.0, 50.0, 500.0, 495.0, 55.0]
    stiff = np.array([3.0, 1.0, 1.0, 1.0, 3.0, 3.0, 1.0, 1.0, 3.0]) * bending
    mass = [1.5 / 50.0, own, own, own, 1.5 / 50.0, 1.5 / 50.0, own, own, 1.7 / 55.0]
    told = library(
        lengths, stiff, mass, [(3, 0.8), (7, 2.0)], pins=[0, 9], springs=[(3, bracket)], hinge=5
    )
    assert found == pytest.approx(told[0], rel=1e-6)


def test_an_overhanging_beam():
    """Pinned at one end and part way, free at the other, with the closed form of uniform beams:
    its determinant, worked here from the four waves of each span."""
    span, over = 700.0, 300.0
    stretches = (Stretch(span, 1e10, 4e-3), Stretch(over, 1e10, 4e-3))
    found = Beam(stretches, (Support(0), Support(1))).speeds(1)[0]

    def closes(k):
        """Slope and moment pass the middle support; the far end is free of moment and force."""
        a, b = k * span, k * over
        left = [sin(a), sinh(a)]
        slope, moment = [cos(a), cosh(a)], [-sin(a), sinh(a)]
        free = [[-cos(b), -sin(b), cosh(b), sinh(b)], [sin(b), -cos(b), sinh(b), cosh(b)]]
        rows = np.zeros((6, 6))
        rows[0, :2] = left
        rows[1, [2, 4]] = 1.0
        rows[2, :2], rows[2, [3, 5]] = slope, -1.0
        rows[3, :2], rows[3, 2], rows[3, 4] = moment, 1.0, -1.0
        rows[4, 2:], rows[5, 2:] = free
        return np.linalg.det(rows)

    k = brentq(closes, 0.5 / span, 3.0 / span, xtol=1e-14)
    assert found == pytest.approx(k**2 * sqrt(1000.0 * 1e10 / 4e-3), rel=1e-5)


@pytest.mark.parametrize("engaged", [40.0, 70.0, 100.0])
def test_a_shaft_with_its_slip_by_sections_whirls_as_the_library_says(engaged: float) -> None:
    """Seven stretches of unlike stiffness and mass between two yokes, scikit-fem against ours."""
    section, stub = tube(3.0, 0.083), material("hardened spline steel")
    built = slip_shape("27 x 82", 3.0 * INCH, 0.083 * INCH).build()
    slip = slip_stretches(built, engaged, stub, stub)
    piece = Piece(1200.0, section, STEEL, 54.0, 60.0, 1.6, 1.9, slip=slip, slip_from=150.0)
    stretches = piece.stretches()
    assert sum(stretch.length for stretch in stretches) == pytest.approx(1200.0)
    speeds = library(
        [stretch.length for stretch in stretches],
        [stretch.bending for stretch in stretches],
        [stretch.mass for stretch in stretches],
        pins=(0, len(stretches)),
    )
    found = slender(shaft_beam([piece])).speeds(1)[0]
    assert found == pytest.approx(speeds[0], rel=1e-4)


def test_a_stepped_shaft_whirls_where_the_frequency_equation_of_its_halves_vanishes() -> None:
    """Closed form: sines and hyperbolic functions on both sides of a step, matched at it.

    Deflection, slope, moment and shear force agree at the step: a determinant of four.
    """
    thick, thin = tube(3.0, 0.083), TubeSection(30.0)
    lengths = 700.0, 400.0
    halves = [
        (STEEL.modulus * each.second_moment, each.mass_per_length(STEEL.density) / 1e3, length)
        for each, length in zip((thick, thin), lengths, strict=True)
    ]

    def determinant(speed: float) -> float:
        columns = []
        for side, (stiff, mass, length) in zip((1.0, -1.0), halves, strict=True):
            b = (mass * speed**2 / stiff) ** 0.25
            for wave, way in ((sin, -1.0), (sinh, 1.0)):
                slope = {sin: cos, sinh: cosh}[wave]
                columns.append(
                    [
                        side * wave(b * length) / sinh(b * length),
                        b * slope(b * length) / sinh(b * length),
                        side * way * stiff * b**2 * wave(b * length) / sinh(b * length),
                        way * stiff * b**3 * slope(b * length) / sinh(b * length),
                    ]
                )
        return float(np.linalg.det(np.array(columns).T / [[1.0], [1e-3], [1e6], [1e3]]))

    rough = np.linspace(20.0, 900.0, 400)
    signs = [determinant(speed) for speed in rough]
    start = next(i for i in range(len(rough) - 1) if signs[i] * signs[i + 1] < 0.0)
    exact = brentq(determinant, rough[start], rough[start + 1], xtol=1e-9)
    bar = Stretch.of(thin, lengths[1], STEEL)
    piece = Piece(sum(lengths), thick, STEEL, slip=(bar,), slip_from=lengths[0])
    found = slender(shaft_beam([piece])).speeds(1)[0]
    assert found == pytest.approx(exact, rel=1e-5)
