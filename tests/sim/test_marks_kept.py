"""Marks kept on disk: the same again, never another's, and found anew where an entry is broken."""

from functools import cache
from math import pi, radians
from pathlib import Path

import numpy as np
import pytest

from geometry.contact.joint_parts import JointParts
from geometry.contact.patches import patches
from geometry.contact.pressed import Meeting
from sim.kept.marks import Met, cached_met
from tests.simple_shapes import ball


@cache
def found(bend: float = radians(63.0)) -> Met:
    parts = JointParts(ball((0, 35, 0), 9.0, "ear"), ball((40, 0, 0), 11.0, "neck"))
    meeting = Meeting(parts, 0.0, bend, spacing=2.5)
    every = patches(meeting, meeting.whole(meeting.pressed()), bend)
    return Met(0.5, (every[:1],), (every,))


def never() -> Met:
    raise AssertionError("found anew, though it was kept")


def test_what_is_kept_is_what_was_found(tmp_path: Path) -> None:
    first = cached_met({"parts": "a"}, found, tmp_path)
    again = cached_met({"parts": "a"}, never, tmp_path)
    assert again.stops == first.stops
    assert len(again.forced[0]) == len(first.forced[0]) == 2
    for one, other in zip(first.forced[0], again.forced[0], strict=True):
        for name in ("surface", "against", "clock", "pair", "spins", "body", "into", "depth"):
            assert getattr(one, name) == getattr(other, name)
        for name in ("points", "depths", "deepest", "facing"):
            np.testing.assert_array_equal(getattr(one, name), getattr(other, name))
        for one_mesh, other_mesh in zip(one.surface_mesh(), other.surface_mesh(), strict=True):
            a, b = (getattr(m, "vertices", m) for m in (one_mesh, other_mesh))
            np.testing.assert_array_equal(a, b)
        assert 0.0 <= other.first < pi


def test_other_parts_are_another_entry(tmp_path: Path) -> None:
    cached_met({"parts": "a"}, found, tmp_path)
    with pytest.raises(AssertionError, match="anew"):
        cached_met({"parts": "b"}, never, tmp_path)


@pytest.mark.parametrize("broken", ["", "no entry", '{"stops": 1.0}'])
def test_a_broken_entry_is_found_anew(tmp_path: Path, broken: str) -> None:
    cached_met({"parts": "a"}, found, tmp_path)
    (entry,) = tmp_path.glob("*.json")
    entry.write_text(broken)
    assert len(cached_met({"parts": "a"}, found, tmp_path).forced[0]) == 2
    cached_met({"parts": "a"}, never, tmp_path)
