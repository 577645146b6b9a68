"""A library of shapes: the same whoever makes it, gone on with, and what is learnt from it."""

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from sim.bench import curves
from sim.bench.both_cores import AllCores
from sim.bench.curves import Known, Library, library
from sim.bench.forecast import learnt
from sim.bench.free import Doubt, doubt_of
from sim.bench.outlook import LEAST_OFF
from sim.kept.answers import FOLDER_VARIABLE
from sim.rig import load_demo

FEW = (
    "shaft_yoke.throat_depth",
    "shaft_yoke.ear_radius",
    "pinion_yoke.bolt_head",
    "pinion_yoke.web",
)


@pytest.fixture(scope="module")
def doubt() -> Doubt:
    found = doubt_of(load_demo("long-legged-trail-wagon"), "pinion")
    assert found is not None
    return found.only([i for i, each in enumerate(found.free) if each.key.endswith(FEW)])


@pytest.fixture(scope="module")
def made(doubt: Doubt, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Library]:
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv(FOLDER_VARIABLE, str(tmp_path_factory.mktemp("library")))
        yield library(doubt, shapes=16, together=AllCores(1))


def same(one: Known, other: Known) -> bool:
    return (
        np.array_equal(one.z, other.z)
        and np.array_equal(one.first, other.first, equal_nan=True)
        and one.pulled == other.pulled
        and set(one.by) == set(other.by)
        and all(np.array_equal(one.by[s], other.by[s], equal_nan=True) for s in one.by)
    )


@pytest.mark.slow
def test_two_processes_make_the_same_as_one(
    doubt: Doubt, made: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    with AllCores(2) as both:
        again = library(doubt, shapes=16, together=both)
    assert all(map(same, (*again.steps, *again.design), (*made.steps, *made.design)))


@pytest.mark.slow
def test_it_goes_on_where_it_was_stopped(
    doubt: Doubt, made: Library, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ended in the middle of the design, nothing on disk is asked a second time."""
    monkeypatch.setenv(FOLDER_VARIABLE, str(tmp_path))
    monkeypatch.setattr(curves, "SAVED", 4)

    class StoppedError(Exception):
        pass

    def stop(share: float) -> None:
        if share > 0.7:
            raise StoppedError

    with pytest.raises(StoppedError):
        library(doubt, stop, shapes=16, together=AllCores(1))
    asked: list[object] = []
    make = curves._Ask.__call__

    def count(self: curves._Ask, z: np.ndarray) -> object:
        asked.append(z)
        return make(self, z)

    monkeypatch.setattr(curves._Ask, "__call__", count)
    again = library(doubt, shapes=16, together=AllCores(1))
    assert 0 < len(asked) < 16
    assert all(map(same, again.design, made.design))
    asked.clear()
    library(doubt, shapes=16, together=AllCores(1))
    assert not asked


@pytest.mark.slow
def test_the_middle_is_that_of_the_joints_own_curve(doubt: Doubt, made: Library) -> None:
    curve_of = doubt.pair.closing()
    from geometry.contact.touch import touch_curve

    curve = touch_curve(curve_of)
    assert curve.certified_clear <= made.steps[0].lowest + 1e-4
    assert made.steps[0].lowest == pytest.approx(curve.touch_min, abs=LEAST_OFF)


@pytest.mark.slow
def test_what_touches_nothing_does_nothing(made: Library) -> None:
    """How long the metal behind the throat's floor is, is far from where bolt heads come."""
    forecast, middle = learnt(made), np.zeros((1, len(FEW)))
    for name, acts in zip(FEW, (True, True, True, False), strict=True):
        at = [free.key.endswith(name) for free in made.doubt.free].index(True)
        moved = [forecast.touch(way * np.eye(len(FEW))[at][None]) for way in (1.0, -1.0)]
        most = max(float(np.abs(each - forecast.touch(middle)).max()) for each in moved)
        assert (most > np.radians(0.1)) == acts, name


@pytest.mark.slow
def test_what_is_left_out_in_closed_form_is_left_out_for_real(made: Library) -> None:
    """One after the other the shapes are taken out of the library and forecast from the rest.

    How dimensions are scaled is learnt from the rest alone then, which closed form does not.
    """
    off = []
    for i, each in enumerate(made.design):
        rest = Library(made.doubt, made.lines, made.steps,
                       made.design[:i] + made.design[i + 1 :])  # fmt: skip
        off.append(learnt(rest).lowest(each.z[None])[0] - each.lowest)
    for_real = np.quantile(np.abs(off), 0.95)
    assert learnt(made).lowest_off == pytest.approx(for_real, rel=0.35)
