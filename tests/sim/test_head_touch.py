from math import inf, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.contact.touch import Contact, TouchCurve
from geometry.head.turning import second_spin
from sim.hardware.head_touch import head_touch, total_from_carrying, total_from_sliding
from sim.head.bend import Head

heads = st.builds(
    lambda span, share, limit: Head(span, share * span, limit),
    st.floats(50.0, 120.0),
    st.floats(0.45, 0.55),
    st.floats(0.3, 0.7),
)
bends = st.floats(0.0, 0.35)
HEAD = Head(72.0, 36.6, 0.6)


def curve(touch, clear=None, bodies=("driving", "driven")):
    """A touch curve of one joint, the same or not at every spin."""
    spin = np.arange(144) * (2.0 * pi / 144)
    at = np.broadcast_to(np.asarray(touch, float), spin.shape).copy()
    lowest = float(np.nanmin(at)) if np.isfinite(at).any() else inf
    first = None
    if np.isfinite(lowest):
        where = float(spin[np.nanargmin(at)])
        first = Contact(bodies, ("ear tip", "ring"), np.zeros((2, 3)), lowest, where)
    certified = (min(lowest, 1.0) - 8e-4) if clear is None else clear
    course = np.stack([spin, np.where(np.isfinite(at), at, 1.0)])
    return TouchCurve(spin, at, at, (first,) * 144, lowest, first, certified, 0.05, 1.0, course)


@given(heads, bends)
def test_from_either_cross_the_same_whole_bend(head: Head, bend: float) -> None:
    """The head's split, taken back."""
    split = head.split(bend)
    np.testing.assert_allclose(total_from_carrying(head, float(split.fixed)), bend, atol=1e-12)
    np.testing.assert_allclose(total_from_sliding(head, float(split.sliding)), bend, atol=1e-12)


def test_a_cross_that_never_gets_there_never_limits() -> None:
    assert total_from_sliding(HEAD, 0.8) == inf
    assert total_from_sliding(HEAD, inf) == total_from_carrying(HEAD, inf) == inf


@pytest.mark.parametrize("carrying_drives", [True, False])
@pytest.mark.parametrize(
    ("first", "second", "limit", "what"),
    [
        (0.2, 0.25, 0.6, "first cross"),
        (0.25, 0.2, 0.6, "second cross"),
        (0.25, 0.25, 0.3, "ball and socket"),
        (np.nan, np.nan, 0.6, "ball and socket"),
    ],
)
def test_what_limits(carrying_drives, first, second, limit, what) -> None:
    head = Head(72.0, 36.6, limit)
    found = head_touch(head, curve(first), curve(second), carrying_drives)
    assert found.limited_by == what
    assert found.certified_total <= found.touch_total <= head.limit
    split = head.split(found.touch_total)
    bent = (split.fixed, split.sliding) if carrying_drives else (split.sliding, split.fixed)
    if what == "ball and socket":
        assert found.touch_total == found.certified_total == limit
        assert found.contact is None
        assert found.surfaces == ("stalk", "socket")
    else:
        at = 0 if what == "first cross" else 1
        np.testing.assert_allclose(bent[at], (first, second)[at], atol=1e-12)
        assert found.contact is found.curves[at].first
        assert found.surfaces == ("ear tip", "ring")
    np.testing.assert_allclose(found.touch, found.touch_total, rtol=0, atol=1e-9)


def test_the_certificate_is_the_lower_of_both_crosses() -> None:
    found = head_touch(HEAD, curve(0.2, clear=0.1993), curve(0.21, clear=0.15), True)
    assert found.limited_by == "first cross"
    np.testing.assert_allclose(HEAD.split(found.certified_total).sliding, 0.15, atol=1e-12)


@pytest.mark.parametrize("carrying_drives", [True, False])
def test_by_spin_against_brute_force(carrying_drives: bool) -> None:
    """Both crosses uneven over the turn: every bend in small steps, until either is past."""
    spin = np.arange(144) * (2.0 * pi / 144)
    first = 0.25 + 0.05 * np.cos(2.0 * spin)
    second = 0.22 + 0.06 * np.cos(2.0 * spin + 0.7)
    found = head_touch(HEAD, curve(first), curve(second), carrying_drives)
    for i in range(0, 144, 7):
        for bend in np.arange(0.2, HEAD.limit, 2e-4):
            split = HEAD.split(bend)
            near, far = split.fixed, split.sliding
            if not carrying_drives:
                near, far = far, near
            there = np.interp(second_spin(near, spin[i]), spin, second, period=2.0 * pi)
            if near >= first[i] or far >= there:
                break
        assert abs(found.touch[i] - min(bend, HEAD.limit)) < 3e-4
    assert found.touch.min() >= found.touch_total - 1e-9
    assert not found.touch.flags.writeable
