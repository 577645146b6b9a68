"""Critical speeds: bounds, limits, scaling, convergence."""

from dataclasses import replace
from itertools import accumulate, pairwise
from math import inf, pi, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.mesh import Mesh
from sim.parts.catalogue import slip_shape
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.whirl import (
    Beam,
    BeamError,
    Mass,
    Piece,
    Stretch,
    Support,
    WhirlMargin,
    plain_tube,
    shaft_beam,
    shaft_speed,
    slip_stretches,
)
from tests.sim.whirl.beams import dunkerley, rayleigh, slender

STEEL = material("drawn steel tube")
TUBE = TubeSection.of_wall(76.2, 2.108)
PIECE = Piece(1200.0, TUBE, STEEL, 54.0, 60.0, 1.6, 1.9)
FRONT = Piece(800.0, TUBE, STEEL, 50.0, 50.0, 1.5, 1.5)
OVERHANG = 100.0


@given(
    length=st.floats(300.0, 2500.0),
    lumps=st.lists(st.tuples(st.floats(0.05, 0.95), st.floats(0.0, 8.0)), max_size=3),
)
def test_between_dunkerley_and_rayleigh(length, lumps):
    """The one never over, the other never under the speed of the same beam by elements."""
    cuts = sorted({0.0, 1.0, *(at for at, _ in lumps)})
    if min(np.diff(cuts)) < 1e-3:
        return
    unit = Stretch.of(TUBE, 1.0, STEEL)
    stretches = tuple(replace(unit, length=(b - a) * length) for a, b in pairwise(cuts))
    masses = tuple(Mass(cuts.index(at), kg) for at, kg in lumps)
    beam = Beam(stretches, (Support(0), Support(len(stretches))), masses)
    exact = slender(beam).speeds(1)[0]
    placed = [(at * length, kg) for at, kg in lumps]
    assert dunkerley(TUBE, length, STEEL, placed) <= exact * (1.0 + 1e-9)
    assert rayleigh(TUBE, length, STEEL, placed) >= exact * (1.0 - 1e-6)


def test_without_lumps_the_bounds_meet():
    speed = plain_tube(TUBE, 1200.0, STEEL)
    assert rayleigh(TUBE, 1200.0, STEEL) == pytest.approx(speed, rel=1e-14)
    assert dunkerley(TUBE, 1200.0, STEEL) == pytest.approx(speed, rel=1e-14)


@given(length=st.floats(200.0, 3000.0), factor=st.floats(0.5, 3.0))
def test_falls_with_the_square_of_the_length(length, factor):
    one, other = (plain_tube(TUBE, f * length, STEEL) for f in (1.0, factor))
    assert other == pytest.approx(one / factor**2, rel=1e-12)


def test_elements_converge_to_the_fourth_order():
    """Off by (length of an element)^4: sixteen times less for half of it."""
    beam = slender(Beam((Stretch.of(TUBE, 1200.0, STEEL),), (Support(0), Support(1))))
    exact = plain_tube(TUBE, 1200.0, STEEL)
    errors = [beam.speeds(1, n)[0] / exact - 1.0 for n in (4, 8)]
    assert errors[0] > 0.0
    assert errors[0] / errors[1] == pytest.approx(16.0, rel=0.1)


def test_higher_speeds_of_a_plain_tube():
    """1, 4, 9 times the first."""
    speeds = slender(shaft_beam([Piece(1200.0, TUBE, STEEL)])).speeds(3)
    assert speeds / speeds[0] == pytest.approx([1.0, 4.0, 9.0], rel=1e-5)


def test_what_gyroscopic_turning_would_do():
    """Its sections turn with the shaft: the forward whirl takes their diametral inertia less the
    polar one, which is twice it. With that the half sine is under half a percent faster."""
    radius2 = TUBE.second_moment / TUBE.area
    wave = (pi / 1200.0) ** 2 * radius2
    assert 0.0 < sqrt((1.0 + wave) / (1.0 - wave)) - 1.0 < 0.005


def test_a_beam_that_shears_in_closed_form():
    """Pinned, both waves: the slow root of the Timoshenko beam's own quartic in w (from the
    theory of beams): a w^4 - (1 + b + c) w^2 + w0^2 with the half sine put in."""
    s = Stretch.of(TUBE, 900.0, STEEL)
    k = pi / s.length
    bending, mass, turning = s.bending, s.mass / 1e3, s.turning / 1e3
    # mass w^2 (shear k^2 ...) : determinant of [shear k^2 - m w^2, shear k; shear k, EI k^2 + ...]
    a = mass * turning
    b = mass * (bending * k**2 + s.shear) + turning * s.shear * k**2
    c = s.shear * k**2 * (bending * k**2 + s.shear) - (s.shear * k) ** 2
    exact = sqrt((b - sqrt(b * b - 4.0 * a * c)) / (2.0 * a))
    beam = Beam((s,), (Support(0), Support(1)))
    found = beam.speeds(1)[0]
    assert found == pytest.approx(exact, rel=2e-5)
    # With shear the elements converge to the second order: a quarter for half of their length.
    errors = [beam.speeds(1, n)[0] / exact - 1.0 for n in (16, 32)]
    assert errors[0] / errors[1] == pytest.approx(4.0, rel=0.1)
    assert 0.96 < found / plain_tube(TUBE, 900.0, STEEL) < 1.0


@given(
    stiff=st.floats(50.0, 1e7),
    more=st.floats(1.01, 10.0),
)
def test_a_stiffer_support_never_slows(stiff, more):
    beam = shaft_beam([PIECE])
    soft, firm, fixed = (
        replace(beam, supports=(Support(0, s), beam.supports[1])).speeds(1)[0]
        for s in (stiff, more * stiff, inf)
    )
    assert soft <= firm * (1.0 + 1e-9)
    assert firm <= fixed * (1.0 + 1e-9)


def test_masses_slow_it_most_in_the_middle():
    def speed(place: float, kg: float) -> float:
        halves = (Stretch.of(TUBE, place, STEEL), Stretch.of(TUBE, 1200.0 - place, STEEL))
        beam = Beam(halves, (Support(0), Support(2)), (Mass(1, kg),))
        return float(beam.speeds(1)[0])

    at = [speed(place, 2.4) for place in (150.0, 350.0, 600.0)]
    assert at == sorted(at, reverse=True)
    assert speed(350.0, 5.0) < speed(350.0, 2.4) < speed(350.0, 0.0)


def test_yokes_as_light_as_tube_make_a_stiffer_plain_tube():
    plain = Piece(1200.0, TUBE, STEEL)
    yoked = replace(plain, first_land=54.0, last_land=54.0)
    assert shaft_speed([plain]) < shaft_speed([yoked]) < 1.02 * shaft_speed([plain])
    assert yoked.mass == pytest.approx(plain.mass, rel=1e-12)


def test_how_stiff_the_yokes_are_matters_little(monkeypatch):
    """Twice as stiff, or no stiffer than the tube: under 1 % either way."""
    base = shaft_speed([PIECE])
    for stiffer in (1.0, 6.0):
        monkeypatch.setattr("sim.whirl.piece.YOKE_STIFFER", stiffer)
        assert shaft_speed([PIECE]) == pytest.approx(base, rel=0.01)


def test_two_pieces_turn_faster_than_one():
    rear = replace(FRONT, length=1000.0)
    whole = Piece(1800.0, TUBE, STEEL, 50.0, 50.0, 1.5, 1.5)
    assert shaft_speed([FRONT, rear], OVERHANG) > 2.0 * shaft_speed([whole])


def test_a_bearing_right_at_the_middle_joint_parts_the_sections():
    """Overhang to nothing, bracket stiff: the slower of the two sections by itself."""
    rear = replace(FRONT, length=1100.0)
    found = shaft_speed([FRONT, rear], 0.01)
    assert found == pytest.approx(min(shaft_speed([FRONT]), shaft_speed([rear])), rel=1e-4)


def test_a_very_soft_bracket_lets_the_middle_swing():
    """Rigid sections hinged on a spring: w = sqrt(k / m_eff), m_eff by the hinge's lever."""
    front, rear = Piece(600.0, TUBE, STEEL), Piece(600.0, TUBE, STEEL)
    beam = slender(shaft_beam([front, rear], 0.01))
    near, held, far = beam.supports
    soft = replace(beam, supports=(near, Support(held.after, 1.0), far))
    found = soft.speeds(1)[0]
    rod = TUBE.mass_per_length(STEEL.density) * 600.0 / 3.0
    assert found == pytest.approx(sqrt(1000.0 * 1.0 / (2.0 * rod)), rel=1e-4)


def test_a_bearing_where_a_yoke_ends():
    rear = replace(FRONT, length=1000.0)
    beam = shaft_beam([FRONT, rear], 50.0)
    near = shaft_speed([FRONT, rear], 51.0)
    assert beam.speeds(1)[0] == pytest.approx(near, rel=2e-3)
    assert len(beam.stretches) == 6


@pytest.mark.parametrize(
    ("speed", "codes"), [(600.0, set()), (750.0, {"near-whirl"}), (1000.0, {"past-whirl"})]
)
def test_share_of_the_critical_speed(speed, codes):
    found = WhirlMargin(speed, 1000.0)
    assert found.share == speed / 1000.0
    assert {flag.code for flag in found.flags} == codes
    assert found.fastest == 700.0
    assert found.half_critical == 500.0


@pytest.mark.parametrize(
    "made",
    [
        lambda: Piece(100.0, TUBE, STEEL, 50.0, 50.0),
        lambda: replace(PIECE, first_mass=0.0),
        lambda: Stretch(100.0, 1.0, 0.0),
        lambda: Stretch(100.0, 1.0, 1.0, shear=0.0),
        lambda: Beam((), ()),
        lambda: Beam((Stretch(1.0, 1.0, 1.0),), (Support(2),)),
        lambda: Beam((Stretch(1.0, 1.0, 1.0),), (), hinges=(1,)),
        lambda: Beam((Stretch(1.0, 1e6, 1.0),), (Support(0),)).speeds(),
        lambda: Beam((Stretch(1.0, 1e6, 1.0),) * 2, (Support(0), Support(2)), hinges=(1,)).speeds(),
        lambda: shaft_speed([FRONT, FRONT], 800.0),
        lambda: shaft_speed([FRONT, FRONT], 0.0),
        lambda: plain_tube(TUBE, 0.0, STEEL),
        lambda: WhirlMargin(1.0, 0.0),
    ],
)
def test_no_such_shaft(made):
    with pytest.raises(BeamError, match=r"got|supports"):
        made()


SLIP = slip_shape("27 x 82", 76.2, 2.1).build()


def with_slip(engaged: float, place: float = 200.0) -> Piece:
    slip = slip_stretches(SLIP, engaged, STEEL, STEEL)
    return replace(PIECE, slip=slip, slip_from=place)


@pytest.mark.slow
@given(st.floats(20.0, 100.0), st.floats(1.0, 20.0))
@settings(max_examples=20)
def test_a_slip_pulled_farther_whirls_sooner(engaged: float, pulled: float) -> None:
    more, less = with_slip(engaged), with_slip(max(5.0, engaged - pulled))
    assert less.slip_length > more.slip_length
    assert shaft_speed([less]) < shaft_speed([more])


@pytest.mark.parametrize("engaged", [20.0, 60.0, 100.0])
def test_a_slip_weighs_what_its_meshes_do(engaged: float) -> None:
    """Volume of the built halves; the teeth and their spaces are counted as a full round."""
    real = (SLIP.sleeve.volume + SLIP.stub.volume) * STEEL.density
    counted = sum(each.mass * each.length for each in slip_stretches(SLIP, engaged, STEEL, STEEL))
    assert counted == pytest.approx(real, rel=0.02)
    length = sum(each.length for each in slip_stretches(SLIP, engaged, STEEL, STEEL))
    assert length == pytest.approx(SLIP.shape.between_lands(engaged), abs=1e-9)


def second_moment(mesh: Mesh, at: float) -> float:
    """Of a cut square to x, mm4: about y, by the edges that the cut leaves, each way round."""
    corners = mesh.vertices[mesh.faces]
    above = corners[:, :, 0] > at
    found = 0.0
    for triangle, up in zip(corners, above, strict=True):
        if up.all() or not up.any():
            continue
        alone = int(np.flatnonzero(up == (up.sum() == 1))[0])
        one, *others = np.roll(triangle, -alone, axis=0)
        ends = [one + (other - one) * (at - one[0]) / (other[0] - one[0]) for other in others]
        (y1, z1), (y2, z2) = (end[1:] for end in (ends if up[alone] else ends[::-1]))
        found += (z1 * z1 + z1 * z2 + z2 * z2) * (y1 * z2 - y2 * z1) / 12.0
    return abs(found)


@pytest.mark.parametrize("engaged", [20.0, 60.0, 100.0])
def test_no_section_of_the_slip_is_stiffer_than_its_mesh(engaged: float) -> None:
    """Sleeve, neck, shoulders: cut out of the built halves. Where they overlap, the sleeve's."""
    sleeve, stub, shape = SLIP.sleeve, SLIP.stub, SLIP.shape
    whole = shape.between_lands(engaged)
    stretches = slip_stretches(SLIP, engaged, STEEL, STEEL)
    ends = [0.0, *accumulate(stretch.length for stretch in stretches)]
    shares = []
    for stretch, start in zip(stretches, ends, strict=False):
        for part in (0.03, 0.5, 0.97):
            at = start + part * stretch.length
            real = second_moment(sleeve, at) if at < shape.sleeve_length else 0.0
            real = real or second_moment(stub, whole - at)
            shares.append(stretch.bending / STEEL.modulus / real)
    assert max(shares) < 1.002
    # The sleeve is bored to the teeth's tops here; the neck is what it is.
    assert min(shares[3:8]) > 0.88
    assert shares[11] == pytest.approx(1.0, abs=2e-3)


@pytest.mark.parametrize("longer", [-30.0, 0.0, 25.0])
def test_a_longer_or_shorter_slip_keeps_its_neck_and_its_spline(longer: float) -> None:
    length = SLIP.shape.between_lands(60.0) + longer
    own = slip_stretches(SLIP, 60.0, STEEL, STEEL, length=length)
    generic = slip_stretches(SLIP, 60.0, STEEL, STEEL)
    assert sum(each.length for each in own) == pytest.approx(length, abs=1e-9)
    assert own[2:4] == generic[2:4]
    heavier = sum(each.mass * each.length for each in own) - sum(
        each.mass * each.length for each in generic
    )
    assert np.sign(heavier) == np.sign(longer)
    with pytest.raises(BeamError, match="from land to land"):
        slip_stretches(SLIP, 60.0, STEEL, STEEL, length=SLIP.shape.between_lands(60.0) - 90.0)


@pytest.mark.parametrize("engaged", [0.0, -3.0, 1e3])
def test_no_spline_inside_is_no_slip(engaged: float) -> None:
    with pytest.raises(BeamError, match="of spline inside"):
        slip_stretches(SLIP, engaged, STEEL, STEEL)


def test_a_slip_that_does_not_fit_between_the_yokes_is_told() -> None:
    with pytest.raises(BeamError, match="expected it between"):
        with_slip(60.0, place=1100.0)


def test_the_middle_of_mass_is_where_the_shaft_balances() -> None:
    """Moments about the first joint, of yokes spread over their lands, and tube."""
    own = TUBE.mass_per_length(STEEL.density)
    tube = 1200.0 - 54.0 - 60.0
    parts = [(1.6, 27.0), (own * tube, 54.0 + 0.5 * tube), (1.9, 1170.0)]
    whole = sum(mass for mass, _ in parts)
    assert PIECE.mass == pytest.approx(whole)
    assert PIECE.middle_of_mass == pytest.approx(sum(m * at for m, at in parts) / whole)
    turned = replace(PIECE, first_land=60.0, last_land=54.0, first_mass=1.9, last_mass=1.6)
    assert turned.middle_of_mass == pytest.approx(1200.0 - PIECE.middle_of_mass)
