"""Smallest gaps that were found before come back as they were, and spoiled ones are found anew."""

from pathlib import Path

import numpy as np
import pytest

from geometry.contact.gap import Gap, smallest_gap
from geometry.contact.joint_parts import ClosingJoint, JointParts
from sim.kept.gaps import cached_gap
from tests.simple_shapes import box, hub

PARTS = JointParts(box((-18, 30, -8), (10, 44, 8), "ear"), hub(42.0, 30.0, 24))
BENDS = (0.0, 0.2, 0.9, 1.5)
"""rad, from straight to metal in metal."""


def made() -> ClosingJoint:
    return ClosingJoint(PARTS)


def none_made() -> ClosingJoint:
    raise AssertionError("the entry was there")


def same(one: Gap, other: Gap) -> bool:
    plain = [
        (gap.distance, gap.overlaps, gap.bodies, gap.surfaces, gap.bend, gap.spin)
        for gap in (one, other)
    ]
    return plain[0] == plain[1] and np.array_equal(one.points, other.points)


@pytest.mark.parametrize("bend", BENDS)
def test_what_comes_back_is_what_was_found(tmp_path: Path, bend: float) -> None:
    first = cached_gap("ear and hub", bend, made, tmp_path)
    again = cached_gap("ear and hub", bend, none_made, tmp_path)
    assert same(first, smallest_gap(made(), bend))
    assert same(first, again)
    assert not again.points.flags.writeable


def test_another_bend_and_another_shape_are_other_entries(tmp_path: Path) -> None:
    cached_gap("ear and hub", 0.2, made, tmp_path)
    for parts, bend in (("ear and hub", 0.2000001), ("another hub", 0.2)):
        with pytest.raises(AssertionError, match="entry was there"):
            cached_gap(parts, bend, none_made, tmp_path)


@pytest.mark.parametrize("spoiled", [b"", b"\x00\xff", b"abc\n{}", b"[]", None])
def test_a_spoiled_entry_is_found_anew(tmp_path: Path, spoiled: bytes | None) -> None:
    good = cached_gap("ear and hub", 0.2, made, tmp_path)
    (entry,) = tmp_path.glob("*.json")
    whole = entry.read_bytes()
    entry.write_bytes(whole[: len(whole) // 2] if spoiled is None else spoiled)
    assert same(cached_gap("ear and hub", 0.2, made, tmp_path), good)
    assert entry.read_bytes() == whole


def test_entries_that_were_swapped_are_found_anew(tmp_path: Path) -> None:
    """Each is whole, but the answer to another question."""
    good = {bend: cached_gap("ear and hub", bend, made, tmp_path) for bend in (0.1, 0.2)}
    one, other = tmp_path.glob("*.json")
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    for bend, gap in good.items():
        assert same(cached_gap("ear and hub", bend, made, tmp_path), gap)
    assert (one.read_bytes(), other.read_bytes()) == (first, second)


def test_an_unwritable_cache_costs_only_time(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    assert cached_gap("ear and hub", 0.2, made, in_the_way).distance > 0.0
