"""Torsional buckling of a tube, against the shell's own equations solved wave by wave.

An endless thin tube buckles under torsion into a screw of n lobes: displacements that go with
exp(i (k x + n theta)). Membrane and bending strains after Sanders (from memory) make a 3 x 3
stiffness, the shear in the wall a 3 x 3 matrix that takes from it; the lowest ratio over k and n is
the buckling stress. No formula of the program takes part.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy.linalg import eigh

from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.strength.tube import IMPERFECT, buckling_shear

NU = 0.304


def shell(slim, k, n):
    """Critical shear over Young's modulus of one wave; radius 1, wall `slim`."""
    membrane, bent = slim / (1.0 - NU**2), slim**3 / (12.0 * (1.0 - NU**2))
    strains = np.array(
        [
            [1j * k, 0.0, 0.0],
            [0.0, 1j * n, 1.0],
            [1j * n, 1j * k, 0.0],
            [0.0, 0.0, k * k],
            [0.0, 1j * n, n * n],
            [-0.5j * n, 1.5j * k, 2.0 * k * n],
        ]
    )
    plate = np.array([[1.0, NU], [NU, 1.0]])
    elastic = np.zeros((6, 6))
    elastic[:2, :2], elastic[2, 2] = membrane * plate, membrane * (1.0 - NU) / 2.0
    elastic[3:5, 3:5], elastic[5, 5] = bent * plate, bent * (1.0 - NU) / 2.0
    stiffness = strains.conj().T @ elastic @ strains
    along, around = np.array([0.0, 0.0, -1j * k]), np.array([0.0, 1.0, -1j * n])
    geometric = np.outer(along.conj(), around)
    weakens = eigh(geometric + geometric.conj().T, stiffness, eigvals_only=True)
    return 1.0 / np.max(np.abs(weakens)) / slim


@pytest.mark.parametrize(
    ("slim", "off"), [(0.002, 0.002), (0.01, 0.01), (0.03, 0.03), (0.06, 0.05)]
)
def test_a_long_tube_buckles_as_its_shell_does(slim, off):
    """The formula is that of a thin wall: the tolerance grows with wall over radius, and the
    formula lies on the safe side."""
    waves = np.exp(np.linspace(-4.0, 0.5, 400))
    exact = min(shell(slim, k, n) for k in waves for n in (2, 3))
    tube = TubeSection.of_wall(100.0 * (2.0 + slim), 100.0 * slim)
    steel = replace(material("drawn steel tube"), poisson=NU)
    told = buckling_shear(tube, steel) / steel.modulus / IMPERFECT
    assert (1.0 - off) * exact < told < 1.0001 * exact
