"""Bind as a lever: the shaft forced past touch, against beam elements; the weight, by its work."""

from math import radians

import numpy as np
import pytest
from skfem import Basis, BilinearForm, ElementLineHermite, MeshLine, condense, solve
from skfem.helpers import dd, ddot

from sim.overload.lever import beam_moment
from sim.parts.tube_section import TubeSection

MODULUS = 206_800.0


@pytest.mark.parametrize("length", [600.0, 1100.0])
def test_moment_of_a_shaft_clamped_where_it_binds(length: float) -> None:
    """Hermite beam of scikit-fem, hinged at the far end, turned by a degree at the near one."""
    section, turn = TubeSection.of_wall(76.2, 2.1), radians(1.0)
    basis = Basis(MeshLine(np.linspace(0.0, length, 13)), ElementLineHermite())
    bends = BilinearForm(lambda u, v, _: MODULUS * section.second_moment * ddot(dd(u), dd(v)))
    stiffness = bends.assemble(basis)
    near, far = (basis.get_dofs(lambda x, at=at: np.isclose(x[0], at)) for at in (0.0, length))
    given = np.zeros(basis.N)
    given[near.all("u_x")] = turn
    held = np.concatenate([near.all("u"), far.all("u"), near.all("u_x")])
    shape = solve(*condense(stiffness, x=given, D=held))
    moment = (stiffness @ shape)[near.all("u_x")]
    assert beam_moment(section, MODULUS, length, turn) == pytest.approx(float(moment[0]), rel=1e-9)
