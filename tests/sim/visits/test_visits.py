"""What moved between two visits: changes that were made up, and as many false alarms as stated."""

from datetime import date
from math import degrees, radians
from typing import Any

import numpy as np
import pytest
from scipy.stats import norm

from sim.accuracy.source import SURE
from sim.accuracy.sources import sources_of
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.visits.looks import looks_like
from sim.visits.moved import FALSE_ALARMS, Known, Moved, Reading, moved_between
from sim.visits.visits import visits_of
from tests.kept import kept

TODAY = date(2026, 12, 1)
RIDE: dict[Reading, Known] = {
    "frame_to_axle": Known(190.5, 3.175),
    "length": Known(922.0, 3.175),
    "shaft_down": Known(radians(14.0), radians(0.5)),
    "pinion_up": Known(radians(1.0), radians(0.5)),
    "output_down": Known(radians(3.0), radians(0.2)),
    "slip_shows": Known(57.0, 3.175),
}
TYPED = {
    "frame_to_axle": "7 1/2 in",
    "length": "36 5/16 in",
    "shaft_points_down": "14 deg",
    "pinion_points_up": "1 deg",
    "output_points_down": "3 deg",
    "slip_shows": "2 1/4 in",
}


def rig_with(*visits: dict[str, Any]) -> Rig:
    return changed(load_demo("goat-path-buggy"), {"visits": list(visits)})


def visit(when: str, state: str = "ride", **other: str) -> dict[str, Any]:
    return {"when": when, "state": state, **TYPED, **other}


def read(random: np.random.Generator) -> dict[Reading, Known]:
    """The same truck read anew."""
    return {
        reading: Known(each.value + float(random.normal()) * each.off / SURE, each.off)
        for reading, each in RIDE.items()
    }


def test_of_a_truck_on_which_nothing_moved_5_in_100_are_told_of_a_move() -> None:
    """Trucks made up by their errors; the count's own spread is of the binomial law."""
    random = np.random.default_rng(1)
    count = 4000
    pairs = [moved_between(read(random), read(random)) for _ in range(count)]
    alarms = sum(any(each.move == "moved" for each in moves) for moves in pairs)
    assert alarms / count == pytest.approx(FALSE_ALARMS, abs=0.012)
    by_itself = sum(each.move != "stayed" for moves in pairs for each in moves)
    assert by_itself / (count * len(RIDE)) == pytest.approx(0.05, abs=0.006)


def test_a_move_is_found_as_often_as_the_normal_law_says() -> None:
    """One number alone: the power of a two-sided test [derivation: the normal law]."""
    random = np.random.default_rng(2)
    off, by = 3.175, 9.0
    spread = np.hypot(off, off) / SURE
    found = 0
    for _ in range(4000):
        was, now = (100.0 + float(random.normal()) * off / SURE for _ in range(2))
        moves = moved_between({"length": Known(was, off)}, {"length": Known(now + by, off)})
        found += moves[0].move == "moved"
    power = norm.sf(SURE - by / spread) + norm.cdf(-SURE - by / spread)
    assert found / 4000 == pytest.approx(float(power), abs=0.025)


def test_how_sure_it_is() -> None:
    (each,) = moved_between({"length": Known(0.0, 3.0)}, {"length": Known(5.0, 4.0)})
    assert each.off == pytest.approx(5.0, abs=1e-12)
    assert each.sure == pytest.approx(0.95, abs=1e-12)
    assert each.by == 5.0


def moves_of(**by: float) -> tuple[Moved, ...]:
    """Numbers that moved by so much, mm and deg; the others stayed."""
    now = dict(RIDE)
    for reading, far in by.items():
        known = RIDE[reading]  # type: ignore[index]
        unit = 1.0 if reading in ("frame_to_axle", "length", "slip_shows") else radians(1.0)
        now[reading] = Known(known.value + far * unit, known.off)  # type: ignore[index]
    return moved_between(RIDE, now)


@pytest.mark.parametrize(
    ("state", "by", "looks"),
    [
        ("ride", {}, []),
        ("ride", {"frame_to_axle": -20, "shaft_down": -2, "slip_shows": -8}, ["springs-settled"]),
        ("ride", {"frame_to_axle": -20, "shaft_down": -2, "pinion_up": 2}, ["springs-settled"]),
        ("ride", {"frame_to_axle": 25, "shaft_down": 2}, ["springs-raised"]),
        ("ride", {"pinion_up": -2}, ["pinion-turned"]),
        ("ride", {"output_down": 1.5}, ["mount-sagged"]),
        ("ride", {"length": 12}, ["length-alone"]),
        ("ride", {"length": 12, "pinion_up": 3}, ["pinion-turned"]),
        ("ride", {"shaft_down": 2, "pinion_up": 2, "output_down": 2}, ["tilted"]),
        ("ride", {"shaft_down": 2, "pinion_up": -2, "output_down": 2},
         ["pinion-turned", "mount-sagged"]),
        ("droop", {"frame_to_axle": 20}, ["hangs-lower"]),
        ("droop", {"frame_to_axle": -20}, ["hangs-higher"]),
        ("bump", {"frame_to_axle": -20}, ["stops-lower"]),
        ("loaded", {"frame_to_axle": -20}, ["springs-settled"]),
        ("crossed up", {"frame_to_axle": -20}, []),
    ],
)  # fmt: skip
def test_what_made_up_changes_look_like(state: Any, by: dict[str, float], looks: list[str]) -> None:
    assert [each.look for each in looks_like(state, moves_of(**by))] == looks


def test_settled_without_a_height_takes_a_flatter_shaft_and_a_slip_that_closed_up() -> None:
    def looks(**by: float) -> list[str]:
        moves = [each for each in moves_of(**by) if each.reading != "frame_to_axle"]
        return [each.look for each in looks_like("ride", moves)]

    assert looks(shaft_down=-2, slip_shows=-8) == ["springs-settled"]
    assert looks(shaft_down=-2) == []


def test_the_last_visit_is_held_against_the_one_before_and_the_first() -> None:
    rig = rig_with(
        visit("2026-03-01"), visit("2024-01-01"), visit("2025-01-01"), visit("2026-05-01", "droop")
    )
    found = visits_of(rig, TODAY)
    assert [(each.state, each.was, each.now, each.days) for each in found.between] == [
        ("ride", 3, 1, 424),
        ("ride", 2, 1, 790),
    ]


def test_errors_are_those_typed_or_of_the_tool_named() -> None:
    finer = visit("2026-03-01", tool="digital level", length="36 5/16 in +- 1/32 in")
    found = visits_of(rig_with(visit("2025-01-01"), finer), TODAY)
    offs = {each.reading: each.off for each in found.between[0].moves}
    assert offs["length"] == pytest.approx(np.hypot(25.4 / 8, 25.4 / 32), rel=1e-12)
    assert degrees(offs["pinion_up"]) == pytest.approx(np.hypot(0.5, 0.2), rel=1e-12)
    assert offs["frame_to_axle"] == pytest.approx(np.hypot(25.4 / 8, 25.4 / 8), rel=1e-12)


def test_odd_days_and_tools_are_told() -> None:
    rig = rig_with(
        visit("2026-03-01", tool="tape"),
        visit("2026-03-01", tool="tape"),
        visit("2027-01-01", tool="laser"),
    )
    told = [each.code for each in visits_of(rig, TODAY).doubts]
    assert told == ["visited-twice", "visit-to-come", "other-tool", "other-tool"]


@kept
def against(**other: str) -> Any:
    rig = rig_with(visit("2026-03-01", **other))
    return visits_of(rig, TODAY, sources_of(rig)).rig


def test_a_rig_that_still_stands_has_nothing_to_put_in() -> None:
    rig = load_demo("goat-path-buggy")
    assert rig.ride_height is not None
    same = {
        "length": rig.ride_height.length.typed,  # type: ignore[union-attr]
        "shaft_points_down": f"{degrees(rig.ride_height.down or 0.0):.4f} deg",
        "pinion_points_up": f"{degrees(rig.axle.up):.4f} deg",
        "output_points_down": f"{degrees(rig.output.down):.4f} deg",
    }
    found = against(**same)
    assert not found.moved
    assert found.lower is None
    assert not found.put_in


def test_a_rig_that_moved_is_told_by_how_far_and_which_keys_to_change() -> None:
    """How much lower the pinion sits: length times the sine of the slope, then and now."""
    rig = load_demo("goat-path-buggy")
    ride = rig.ride_height
    assert ride is not None
    assert ride.length is not None
    now = degrees(ride.down or 0.0) - 3.0
    found = against(length=ride.length.typed, shaft_points_down=f"{now:.4f} deg")
    assert found.moved
    was = np.sin(ride.down or 0.0) - np.sin(radians(round(now, 4)))
    assert found.lower == pytest.approx(ride.length.mm * was, rel=1e-6)
    assert found.put_in["ride_height.shaft_points_down"] == f"{now:.4f} deg"
    assert changed(rig, found.put_in).ride_height != ride
