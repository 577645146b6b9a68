"""What lives near the shaft is told of a rig and of each cure as a check of it tells."""

from math import isclose

import pytest

from sim.check import Check, check
from sim.cures import Cures, find_cures
from sim.rig import Rig, changed, load_demo
from tests.kept import kept


def with_crossmember(name: str, low: float, wanted: str = "1/2 in") -> Rig:
    """A demo rig with a bar across under the shaft, its middle so many inches above the axle."""
    bar = {"at": ["30 in", "0 in", f"{low} in"], "size": ["2 in", "20 in", "2 in"]}
    named = [{"name": "bar", "box": bar}]
    return changed(load_demo(name), {"surroundings": named, "wanted.clearance": wanted})


@kept
def cured(name: str, low: float, wanted: str = "1/2 in") -> Cures:
    return find_cures(with_crossmember(name, low, wanted))


def told(result: Check) -> dict[str, tuple[str, float]]:
    """Verdict and gap (mm) of each thing by a check."""
    found = (each for each in result.findings if each.code == "surroundings")
    return {each.subject: (each.verdict, each.worst.value) for each in found}


def agree(near: object, result: Check) -> None:
    """What is short of its clearance is what a check says is."""
    verdicts = told(result)
    short = {name for name, (verdict, _) in verdicts.items() if verdict != "clear"}
    assert {gap.name for gap in near} == short  # type: ignore[attr-defined]
    for gap in near:  # type: ignore[attr-defined]
        verdict, mm = verdicts[gap.name]
        assert gap.touches == (verdict == "touches")
        assert isclose(gap.gap_mm, mm, abs_tol=1e-6)  # the same search on the same rig


@pytest.mark.slow
@pytest.mark.parametrize("low", [1.5, 5.0])
def test_the_rig_and_its_cures_are_told_as_a_check_tells(low: float) -> None:
    found = cured("marsh-runner", low)
    agree(found.near, check(found.rig))
    for cure in found.cures[:2]:
        result = check(cure.rig)
        agree(cure.near, result)
        if cure.works:
            assert result.verdict != "touches", cure.says


@pytest.mark.slow
def test_what_leaves_the_shaft_hitting_something_is_no_cure() -> None:
    """Once a shaft that hit a crossmember was said to need none."""
    found = cured("marsh-runner", 5.0)
    assert [gap.touches for gap in found.near] == [True]
    assert not any(cure.works for cure in found.cures if any(gap.touches for gap in cure.near))
    away = cured("marsh-runner", -9.0)
    assert away.near == ()
    assert any(cure.works for cure in away.cures)
    assert all(cure.near == () for cure in away.cures if cure.works)


@pytest.mark.slow
def test_a_rig_that_is_clear_but_for_what_is_near_it_is_told_so() -> None:
    found = cured("quarry-hauler", 5.0)
    assert found.before.verdict == "clear"
    assert found.cures == ()
    assert [gap.touches for gap in found.near] == [True]
