import subprocess
import sys
import zipfile
from concurrent.futures import ProcessPoolExecutor
from dataclasses import fields, replace
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.touch import TouchCurve, touch_curve
from sim.hardware.joint import JointHardware
from sim.kept import answers
from sim.kept import touch_curves as touch_cache
from sim.kept.touch_curves import cached_touch
from sim.parts.catalogue import cross_shape, yoke_shape
from tests.simple_shapes import box, hub


def made(floor: float = 42.0) -> ClosingJoint:
    return ClosingJoint(JointParts(box((-18, 30, -8), (10, 44, 8), "ear"), hub(floor, 30.0, 24)))


def kept(folder: Path, floor: float = 42.0) -> TouchCurve:
    """The curve of an ear over a hub with its floor so far out, mm."""
    return cached_touch(f"ear, hub {floor}", lambda: made(floor), folder)


def is_kept(folder: Path, floor: float = 42.0) -> bool:
    """Whether that curve comes back without the joint being made."""
    try:
        cached_touch(f"ear, hub {floor}", _must_not_be_asked, folder)
    except AssertionError:
        return False
    return True


def test_what_comes_back_is_what_was_kept(tmp_path: Path) -> None:
    assert not is_kept(tmp_path)
    first = kept(tmp_path)
    assert is_kept(tmp_path)
    again, plain = kept(tmp_path), touch_curve(made())
    for curve in (first, again):
        np.testing.assert_array_equal(curve.touch, plain.touch)
        np.testing.assert_array_equal(curve.clear, plain.clear)
        assert curve.touch_min == plain.touch_min
        assert curve.certified_clear == plain.certified_clear
        for back, fresh in zip(curve.contacts, plain.contacts, strict=True):
            if fresh is None or back is None:
                assert fresh is back
                continue
            assert (back.bodies, back.surfaces) == (fresh.bodies, fresh.surfaces)
            np.testing.assert_array_equal(back.points, fresh.points)


def _must_not_be_asked() -> ClosingJoint:
    raise AssertionError("the entry was there")


@pytest.mark.slow
@pytest.mark.parametrize("spoiled", [b"", b"\x00\xff\xfe", b"abc\n{}", None])
def test_a_spoiled_entry_is_built_anew(tmp_path: Path, spoiled: bytes | None) -> None:
    good = kept(tmp_path)
    (entry,) = tmp_path.glob("*.json")
    whole = entry.read_bytes()
    entry.write_bytes(whole[: len(whole) // 2] if spoiled is None else spoiled)
    again = kept(tmp_path)
    np.testing.assert_array_equal(again.touch, good.touch)
    assert entry.read_bytes() == whole


def test_entries_that_were_swapped_are_built_anew(tmp_path: Path) -> None:
    """Each is whole, but of another pair of yokes."""
    floors = 42.0, 43.0
    good = [kept(tmp_path, floor).touch_min for floor in floors]
    assert good[0] != good[1]
    one, other = tmp_path.glob("*.json")
    first, second = one.read_bytes(), other.read_bytes()
    one.write_bytes(second)
    other.write_bytes(first)
    assert not any(is_kept(tmp_path, floor) for floor in floors)
    assert [kept(tmp_path, floor).touch_min for floor in floors] == good


def test_another_shape_is_another_entry(tmp_path: Path) -> None:
    kept(tmp_path)
    assert not is_kept(tmp_path, 43.0)


def test_any_dimension_of_any_part_is_another_entry() -> None:
    """By however little; the key of a joint tells of both yokes and of the cross."""
    yoke, cross = yoke_shape("weld yoke", "27 x 82"), cross_shape("27 x 82")
    keys, count = {JointHardware("output", yoke, yoke, cross).key}, 1
    for each in fields(yoke):
        if isinstance(value := getattr(yoke, each.name), float):
            other = replace(yoke, **{each.name: value * (1.0 + 1e-9)})
            keys |= {
                JointHardware("output", *pair, cross).key for pair in ((yoke, other), (other, yoke))
            }
            count += 2
    for each in fields(cross):
        if isinstance(value := getattr(cross, each.name), float):
            other = replace(cross, **{each.name: value * (1.0 + 1e-9)})
            keys.add(JointHardware("output", yoke, yoke, other).key)
            count += 1
    assert len(keys) == count > 20


def test_another_gap_is_another_entry(tmp_path: Path) -> None:
    """However little wider: what is clear of a touch is not clear of a gap."""
    gap = 1.0
    cached_touch("ear and hub", lambda: ClosingJoint(made().parts, gap), tmp_path, gap)
    cached_touch("ear and hub", _must_not_be_asked, tmp_path, gap)
    for other in (0.0, 1.0000001):
        with pytest.raises(AssertionError, match="entry was there"):
            cached_touch("ear and hub", _must_not_be_asked, tmp_path, other)


def test_another_program_is_another_entry(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept(tmp_path)
    monkeypatch.setattr(answers, "code_key", lambda _: "another program")
    assert not is_kept(tmp_path)


SOURCES = ("geometry/deep/module.py", "sim/kept/answers.py", "sim/kept/touch_curves.py")


def key_of(texts: dict[str, str], archive: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    """Key of a program whose sources lie in an archive, as those of a packed program do."""
    with zipfile.ZipFile(archive, "w") as into:
        for name, text in texts.items():
            into.writestr(name, text)
    inside = zipfile.Path(archive)
    monkeypatch.setattr(answers, "files", lambda name: inside.joinpath(*name.split(".")))
    return answers.code_key.__wrapped__()


@pytest.mark.parametrize("changed", SOURCES)
def test_the_key_of_the_program_is_that_of_its_sources(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, changed: str
) -> None:
    """A line more anywhere in what builds, searches and keeps is another program."""
    texts = dict.fromkeys(SOURCES, "a = 1")
    keys = [
        key_of(texts | {changed: text}, tmp_path / f"{number}.zip", monkeypatch)
        for number, text in enumerate(("a = 1", "a = 1\n", "a = 2", "a = 1"))
    ]
    assert len(set(keys)) == 3
    assert keys[0] == keys[3]


@pytest.mark.parametrize("room", ["geometry", "sim/kept"])
def test_a_program_without_its_sources_finds_only_its_own_answers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room: str
) -> None:
    texts = {name: "a = 1" for name in SOURCES if not name.startswith(room)}
    texts |= {f"{room}/module.pyc": "compiled"}
    keys = {key_of(texts, tmp_path / f"{number}.zip", monkeypatch) for number in range(2)}
    assert len(keys) == 2


def test_the_key_is_that_of_the_program_as_it_started() -> None:
    """An update that comes while it runs must not get its answers."""
    asked = "from sim.kept import answers; print(answers.code_key.cache_info().currsize)"
    told = subprocess.run([sys.executable, "-c", asked], check=True, capture_output=True, text=True)
    assert told.stdout.strip() == "1"


@pytest.mark.parametrize("newer", ["manifold3d", "python-fcl"])
def test_another_library_that_cuts_or_sees_touch_is_another_program(
    monkeypatch: pytest.MonkeyPatch, newer: str
) -> None:
    before = answers.code_key.__wrapped__()
    told = answers.version
    monkeypatch.setattr(answers, "version", lambda name: told(name) + "1" * (name == newer))
    assert answers.code_key.__wrapped__() != before


def test_an_unwritable_cache_costs_only_time(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("not a folder")
    assert np.isfinite(kept(in_the_way).touch_min)


def test_the_oldest_entries_are_dropped(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(touch_cache, "MOST_ENTRIES", 2)
    for floor in (42.0, 43.0, 44.0):
        kept(tmp_path, floor)
    assert len(list(tmp_path.glob("*"))) == 2


def _lowest(folder: Path) -> float:
    return kept(folder).touch_min


@pytest.mark.slow
def test_two_processes_at_once_get_the_same_answer(tmp_path: Path) -> None:
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        answers = list(pool.map(_lowest, [tmp_path] * 4))
    assert len(set(answers)) == 1
    assert len(list(tmp_path.glob("*"))) == 1
