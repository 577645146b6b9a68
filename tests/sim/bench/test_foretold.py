"""What readings come to by forecast: beside the fit that follows it, and at its edges."""

from math import pi, radians
from pathlib import Path

import numpy as np
import pytest

from sim.bench.curves import library
from sim.bench.fit import fitted_joint
from sim.bench.foretold import foretold_joint
from sim.bench.free import doubt_of
from sim.bench.readings import told
from sim.rig import Rig, changed, load_demo

RIG = "long-legged-trail-wagon"


def read(*readings: dict[str, str]) -> Rig:
    return changed(load_demo(RIG), {"shaft.pinion_end.bench": list(readings)})


AGREE = (
    {"ears": "in line", "touches_at": "27 deg"},
    {"ears": "across", "touches_at": "29 1/2 deg"},
    {"ears": "any", "touches_at": "26 deg"},
)


def test_without_a_library_or_a_reading_nothing_is_foretold_and_nothing_made(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("BINDPOINT_CACHE", str(tmp_path))
    assert foretold_joint(load_demo(RIG), "pinion") is None
    assert foretold_joint(read(*AGREE), "pinion") is None
    assert not list(tmp_path.rglob("*.json*"))


@pytest.mark.slow
def test_a_forecast_is_no_narrower_than_the_fit_and_agrees_with_it() -> None:
    """It rests on less: on no shape that was built where the readings say the joint is."""
    rig = read(*AGREE[:2])
    found, soon = fitted_joint(rig, "pinion"), foretold_joint(rig, "pinion")
    assert found is not None
    assert soon is not None
    scatter = radians(0.2)  # of the ends of a band of 2,048 draws of some 4 deg
    assert soon.before == pytest.approx(found.before, abs=scatter)
    assert soon.before[0] < soon.lowest[0] <= found.lowest[0] + scatter
    assert found.lowest[1] - scatter <= soon.lowest[1] < soon.before[1]
    assert not soon.contradictions


@pytest.mark.slow
def test_the_lowest_is_known_as_well_as_it_was_read_whatever_the_forecast_is_off() -> None:
    """26 +- 1/2 deg over a whole turn is 25 1/2 to 26 1/2 deg, by forecast and by fit."""
    rig = read(*AGREE)
    found, soon = fitted_joint(rig, "pinion"), foretold_joint(rig, "pinion")
    assert found is not None
    assert soon is not None
    for each in (found.lowest, soon.lowest):
        assert np.degrees(each) == pytest.approx([25.5, 26.5], abs=0.12)
    assert np.degrees(found.forecast_off) > 0.5, "less, and this would test nothing"
    # No line of the plot goes below it either.
    assert found.low.min() >= found.lowest[0] - radians(0.1)


@pytest.mark.slow
def test_what_no_yoke_of_the_kind_does_is_foretold_too() -> None:
    doubt = doubt_of(load_demo(RIG), "pinion")
    assert doubt is not None
    library(doubt)
    soon = foretold_joint(read({"ears": "in line", "touches_at": "37 deg"}, AGREE[1]), "pinion")
    assert soon is not None
    (fight,) = soon.contradictions
    assert (fight.kind, fight.numbers) == ("yoke", (1,))


@pytest.mark.slow
def test_two_readings_of_one_turn_count_as_their_mean() -> None:
    """Errors of 1/2 deg and 1/4 deg, 95 of 100: weights 1 to 4, together 0.224 deg [derivation]."""
    doubt = doubt_of(load_demo(RIG), "pinion")
    assert doubt is not None
    library(doubt)
    twice = read(
        {"ears": "any", "touches_at": "26 deg +- 1/2 deg"},
        {"ears": "any", "touches_at": "26.5 deg +- 1/4 deg"},
    )
    soon = foretold_joint(twice, "pinion")
    assert soon is not None
    assert np.degrees(soon.lowest) == pytest.approx([26.4 - 0.224, 26.4 + 0.224], abs=0.05)


def test_in_line_with_one_yoke_is_across_with_the_other() -> None:
    def places(*held: tuple[str, str]) -> list[object]:
        each = [{"clamped": who, "ears": ears, "touches_at": "27 deg"} for who, ears in held]
        return [one.place for one in told(read(*each), "pinion")]

    one, other, own = places(
        ("shaft yoke", "in line"), ("pinion yoke", "across"), ("pinion yoke", "in line")
    )
    assert one == other == (0.0, True)
    assert own == (0.5 * pi, True)
    assert places(("pinion yoke", "between"), ("pinion yoke", "any")) == [(0.25 * pi, False), None]
