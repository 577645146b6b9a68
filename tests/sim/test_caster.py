"""Pinion and caster of a front axle: one housing, one turn."""

from math import atan2, radians

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.frames import Ry
from sim.suspension.vertical import Vertical
from viewer.words.finding_facts import caster_words


@given(raised=st.floats(-0.2, 0.2), caster=st.floats(-0.1, 0.2), kingpin=st.floats(-0.25, 0.25))
def test_the_steering_axis_leans_with_the_housing(raised, caster, kingpin):
    """Own derivation: the axis points (-tan caster, tan kingpin, 1); the front housing turned
    nose up carries it along, and its lean is read in the side view."""
    axis = np.array([-np.tan(caster), np.tan(kingpin), 1.0])
    turned = Vertical(front=True).poses(0.0, 0.0, raised).direction(axis)
    np.testing.assert_allclose(turned, Ry(raised) @ axis, rtol=0, atol=1e-15)
    assert caster - raised == pytest.approx(atan2(-turned[0], turned[2]), abs=1e-12)


def test_it_is_said_in_one_line():
    assert caster_words(radians(4.0), radians(6.0)) == (
        "raising the pinion 4.0 deg costs 4.0 deg of caster and leaves 2.0 deg positive, unless "
        "the knuckles are cut and turned too"
    )
    assert "adds 2.0 deg of caster and leaves 7.0 deg positive" in (
        caster_words(radians(-2.0), radians(5.0))
    )
    assert "leaves 1.0 deg negative" in caster_words(radians(6.0), radians(5.0))
    assert "stays" in caster_words(0.0, 0.1)
