"""The certificate against brute force: another library asked at every bend and spin of a grid.

Source: Coal 3, a general collision library, asked yes or no on the whole contact meshes.
"""

from math import degrees, pi
from typing import Any

import numpy as np
import pytest

from geometry.contact import first_touch
from geometry.contact.distance import MeshPair
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.row_search import Proof
from geometry.contact.touch import touch_curve
from geometry.joint import driven_in_driving
from sim.parts.catalogue import cross_shape, yoke_shape
from tests.outside.second_library import coal_cuts, coal_mesh

PAIRS = [
    ("weld yoke", "weld yoke", "27 x 82"),
    ("weld yoke", "strap yoke", "30 x 106"),
    ("deep-throat weld yoke", "deep-throat flange yoke", "35 x 106"),
]


@pytest.mark.slow
@pytest.mark.parametrize(("driving", "driven", "cross"), PAIRS)
def test_nothing_is_found_below_the_certificate_and_something_at_the_touch(
    driving: str, driven: str, cross: str
) -> None:
    """Every 0.5 deg of spin at the certificate, and coarser all the way up to it."""
    one, other = (yoke_shape(kind, cross).build().contact for kind in (driving, driven))
    parts = JointParts(one, other, cross_shape(cross).build().contact)
    curve = touch_curve(ClosingJoint(parts))
    assert curve.first is not None
    assert degrees(curve.touch_min - curve.certified_clear) <= 0.05
    a, b = coal_mesh(one), coal_mesh(other)
    clear = curve.certified_clear
    for spin in np.arange(0.0, 2.0 * pi, np.radians(0.5)):
        assert not coal_cuts(a, b, driven_in_driving(clear, spin))
    for bend in [*np.arange(0.0, clear, np.radians(2.0)), clear - np.radians(0.25)]:
        for spin in np.arange(0.0, 2.0 * pi, np.radians(3.0)):
            assert not coal_cuts(a, b, driven_in_driving(bend, spin))
    if "cross" not in curve.first.bodies:
        assert coal_cuts(a, b, driven_in_driving(curve.touch_min, curve.first.spin))


@pytest.mark.slow
def test_the_curve_is_the_first_contact_that_brute_force_finds() -> None:
    """At random spins: first cutting bend on a 0.02 deg grid, against the curve's own search."""
    shape = yoke_shape("weld yoke", "27 x 82").build().contact
    joint = ClosingJoint(JointParts(shape, shape))
    curve = touch_curve(joint, spins=72)
    a = coal_mesh(shape)
    for i in np.random.default_rng(4).choice(72, 12, replace=False):
        bends = np.arange(np.radians(15.0), curve.limit, np.radians(0.02))
        first = next(
            bend for bend in bends if coal_cuts(a, a, driven_in_driving(bend, curve.spin[i]))
        )
        assert degrees(first - curve.touch[i]) == pytest.approx(0.0, abs=0.025)


@pytest.mark.parametrize(
    ("kind", "cross"), [("strap yoke", "30 x 106"), ("deep-throat weld yoke", "35 x 106")]
)
def test_a_curve_asks_no_more_than_it_needs(
    kind: str, cross: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At most half a million rows in one search, 1,000 cuts, and a distance for each spin that
    stands for others.

    Rows that are bounded worse than they need be would be as safe and cost more.
    """
    asked = {"nearest": 0, "cut": 0}
    rows = []
    for name in asked:
        monkeypatch.setattr(MeshPair, name, counted(name, getattr(MeshPair, name), asked))
    search = first_touch.search

    def noted(*told: Any) -> Proof:
        proof = search(*told)
        rows.append(proof.rows)
        assert proof.finished
        return proof

    monkeypatch.setattr(first_touch, "search", noted)
    shape = yoke_shape(kind, cross).build().contact
    touch_curve(ClosingJoint(JointParts(shape, shape)))
    assert len(rows) == 1
    assert 100_000 < rows[0] <= 500_000
    assert asked["nearest"] == 38
    assert 200 < asked["cut"] <= 1_000


def counted(name: str, ask: Any, asked: dict[str, int]) -> Any:
    """The same question, counted."""

    def asking(pair: MeshPair, *pose: np.ndarray) -> Any:
        asked[name] += 1
        return ask(pair, *pose)

    return asking
