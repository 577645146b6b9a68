from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import touch_curve
from sim.kept import touch_curves as touch_cache
from sim.kept.touch_curves import cached_touch, is_cached
from tests.simple_shapes import box, hub

PARTS = JointParts(box((-18, 30, -8), (10, 44, 8), "ear"), hub(42.0, 30.0, 24))


def test_what_comes_back_is_what_was_kept(tmp_path: Path) -> None:
    assert not is_cached(PARTS, tmp_path)
    first = cached_touch(PARTS, folder=tmp_path)
    assert is_cached(PARTS, tmp_path)
    again = cached_touch(PARTS, _must_not_be_asked, tmp_path)
    plain = touch_curve(ClosingJoint(PARTS))
    for curve in (first, again):
        np.testing.assert_array_equal(curve.touch, plain.touch)
        np.testing.assert_array_equal(curve.clear, plain.clear)
        assert curve.touch_min == plain.touch_min
        assert curve.certified_clear == plain.certified_clear
        for kept, fresh in zip(curve.contacts, plain.contacts, strict=True):
            if fresh is None or kept is None:
                assert fresh is kept
                continue
            assert (kept.bodies, kept.surfaces) == (fresh.bodies, fresh.surfaces)
            np.testing.assert_array_equal(kept.points, fresh.points)


def _must_not_be_asked() -> ClosingJoint:
    raise AssertionError("the entry was there")


@pytest.mark.slow
@pytest.mark.parametrize("spoiled", [b"", b"\x00\xff\xfe", b"abc\n{}", None])
def test_a_spoiled_entry_is_built_anew(tmp_path: Path, spoiled: bytes | None) -> None:
    good = cached_touch(PARTS, folder=tmp_path)
    (entry,) = tmp_path.glob("*.json")
    whole = entry.read_bytes()
    entry.write_bytes(whole[: len(whole) // 2] if spoiled is None else spoiled)
    again = cached_touch(PARTS, folder=tmp_path)
    np.testing.assert_array_equal(again.touch, good.touch)
    assert entry.read_bytes() == whole


def test_entries_that_were_swapped_are_built_anew(tmp_path: Path) -> None:
    """Each is whole, but of another pair of yokes."""
    pairs = PARTS, JointParts(PARTS.driving, hub(43.0, 30.0, 24))
    good = [cached_touch(parts, folder=tmp_path).touch_min for parts in pairs]
    assert good[0] != good[1]
    one, other = tmp_path.glob("*.json")
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    assert not any(is_cached(parts, tmp_path) for parts in pairs)
    assert [cached_touch(parts, folder=tmp_path).touch_min for parts in pairs] == good


def test_another_shape_is_another_entry(tmp_path: Path) -> None:
    cached_touch(PARTS, folder=tmp_path)
    other = JointParts(PARTS.driving, hub(43.0, 30.0, 24))
    assert not is_cached(other, tmp_path)


def test_an_unwritable_cache_costs_only_time(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    assert np.isfinite(cached_touch(PARTS, folder=in_the_way).touch_min)


def test_the_oldest_entries_are_dropped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(touch_cache, "MOST_ENTRIES", 2)
    for floor in (42.0, 43.0, 44.0):
        cached_touch(JointParts(PARTS.driving, hub(floor, 30.0, 24)), folder=tmp_path)
    assert len(list(tmp_path.glob("*"))) == 2


def _lowest(folder: Path) -> float:
    return cached_touch(PARTS, folder=folder).touch_min


@pytest.mark.slow
def test_two_processes_at_once_get_the_same_answer(tmp_path: Path) -> None:
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        answers = list(pool.map(_lowest, [tmp_path] * 4))
    assert len(set(answers)) == 1
    assert len(list(tmp_path.glob("*"))) == 1
