"""Torsion of tubes and roots of trunnions, against textbook examples and numbers worked apart."""

from math import degrees, pi, radians

import pytest

from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.strength import Trunnion, joint_load, trunnion_members

INCH = 25.4
TUBE = TubeSection(60.0, 40.0)


def test_torque_of_a_tube_in_a_textbook():
    """[BEER, ex. 3.01]: 60/40 mm, 120 MPa: J 1.021e-6 m4, T 4.08 kN m, 80 MPa at the bore."""
    assert TUBE.polar_moment * 1e-12 == pytest.approx(1.02102e-6, rel=1e-5)
    torque = 120.0 / TUBE.torsion(1.0)
    assert torque / 1e6 == pytest.approx(4.08407, rel=2e-6)
    assert torque / 1e6 == pytest.approx(4.08, abs=5e-3)
    assert TUBE.torsion(torque) * 40.0 / 60.0 == pytest.approx(80.0, rel=1e-12)


def test_twist_of_a_tube_in_a_textbook():
    """[BEER, ex. 3.02 and 3.03]: 1.5 m, G 77 GPa, 2 deg: 1.829 kN m; 70 MPa at the bore: 3.91."""
    stiffness = TUBE.torsion_stiffness(1500.0, 77e3)
    assert radians(2.0) * stiffness / 1e6 == pytest.approx(1.8295, abs=5e-4)
    torque = 70.0 * TUBE.polar_moment / 20.0
    assert degrees(torque / stiffness) == pytest.approx(3.906530, abs=5e-7)


def test_tube_against_a_bar_of_equal_weight_in_a_textbook():
    """[BEER, sample problem 3.2]: 6 in / 4 in, 12 ksi: 408 kip in; the bar 211 kip in."""
    tube = TubeSection(6.0, 4.0)
    bar = TubeSection((6.0**2 - 4.0**2) ** 0.5)
    assert bar.area == pytest.approx(tube.area, rel=1e-14)
    assert 12.0 / tube.torsion(1.0) == pytest.approx(408.407, abs=5e-4)
    assert 12.0 / bar.torsion(1.0) == pytest.approx(210.744, abs=5e-4)


@pytest.mark.parametrize(
    ("outside", "share", "limit"),
    [(53.46, 0.0, "stress"), (58.82, 0.0, "twist"), (63.73, 0.8, "stress"), (67.10, 0.8, "twist")],
)
def test_sizes_of_a_textbook(outside, share, limit):
    """[GERE, ex. 3.2]: 1200 N m, 40 MPa, 0.75 deg/m, G 78 GPa; diameters as printed there."""
    section = TubeSection(outside, share * outside)
    if limit == "stress":
        assert section.torsion(1.2e6) == pytest.approx(40.0, rel=4e-4)
    else:
        twist = 1.2e6 / section.torsion_stiffness(1000.0, 78e3)
        assert degrees(twist) == pytest.approx(0.75, rel=4e-4)


@pytest.mark.parametrize(
    ("outside", "wall", "length", "second", "mass", "stress", "twist", "stiffness"),
    [
        (3.0, 0.083, 48.0, 3.370029e-7, 3.8521, 113.055, 2.6139, 43_839.1),
        (3.0, 0.120, 48.0, 4.693608e-7, 5.4987, 81.174, 1.8768, 61_056.9),
        (3.5, 0.083, 60.0, 5.415817e-7, 4.5124, 82.074, 2.0332, 56_361.5),
        (4.0, 0.134, 60.0, 1.267087e-6, 8.2424, 40.092, 0.8690, 131_863.5),
    ],
)
def test_driveshaft_tubes(outside, wall, length, second, mass, stress, twist, stiffness):
    """Worked apart: inches; 2 kN m, G 79.3 GPa, 7850 kg/m3; m4, kg/m, MPa, deg, N m/rad."""
    section = TubeSection.of_wall(outside * INCH, wall * INCH)
    assert section.second_moment * 1e-12 == pytest.approx(second, rel=2e-7)
    assert section.mass_per_length(7.85e-6) * 1e3 == pytest.approx(mass, abs=5e-5)
    assert section.torsion(2e6) == pytest.approx(stress, abs=5e-4)
    found = section.torsion_stiffness(length * INCH, 79_300.0)
    assert found / 1e3 == pytest.approx(stiffness, abs=0.05)
    assert degrees(2e6 / found) == pytest.approx(twist, abs=5e-5)


def test_root_of_a_trunnion():
    """Worked apart: 17.5 mm with a hole of 4, R 30, lever 8, 2 kN m: 508.208 MPa, 146.223 mean."""
    trunnion = Trunnion(17.5, 8.0, 12.0, 27.0, 15.0, 30.0, grease_hole=4.0)
    load = joint_load(2e6, 0.0, 30.0)
    steel = material("case-hardened cross steel")
    bending, shear, *_ = trunnion_members(load, trunnion, steel, steel)
    assert bending.stress == pytest.approx(508.208, abs=5e-4)
    assert load.cap_force / trunnion.root.area == pytest.approx(146.223, abs=5e-4)
    assert 4.0 / 3.0 < shear.stress / 146.223 < 2.0


def test_couples_of_the_cross():
    """Vector statics worked apart, 1000 N m: T tan b on the driving shaft, which is the greater."""
    for bend, driving in ((5.0, 87.489), (10.0, 176.327), (20.0, 363.970), (30.0, 577.350)):
        load = joint_load(1e6, radians(bend), 32.0)
        assert load.couple / 1e3 == pytest.approx(driving, abs=5e-4)


def test_shear_across_a_round_bar_and_a_thin_ring():
    """4/3 of the mean in a bar, twice the mean in a thin ring: statics of beams, from memory."""
    assert TubeSection(20.0).across(pi * 100.0) == pytest.approx(4.0 / 3.0, rel=1e-12)
    ring = TubeSection.of_wall(100.0, 0.01)
    assert ring.across(ring.area) == pytest.approx(2.0, rel=1e-3)
