"""What a double-Cardan head with unequal halves leaves, against numbers computed apart.

Greatest acceleration of the driven shaft over the driving speed squared, exact, for a head whose
halves stand off the middle by 0.5, 1 and 2 deg each; from a computation that shares no code.
"""

import numpy as np
import pytest

from sim.cardan import chain
from tests.closed_forms import head_axes

TABLE = [
    (20.0, 0.5, 0.006155),
    (20.0, 1.0, 0.012312),
    (20.0, 2.0, 0.024635),
    (30.0, 0.5, 0.009354),
    (30.0, 1.0, 0.018710),
    (30.0, 2.0, 0.037444),
]


@pytest.mark.parametrize(("total", "off", "left"), TABLE)
def test_acceleration_left_by_unequal_halves(total, off, left):
    turning = chain(head_axes(*np.radians([0.5 * total + off, 0.5 * total - off])))
    np.testing.assert_allclose(turning.greatest_acceleration, left, rtol=0, atol=5e-7)
