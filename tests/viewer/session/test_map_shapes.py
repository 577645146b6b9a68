"""The travel map as shapes: areas, contour lines, and what is out of reach."""

from dataclasses import replace

import numpy as np
import pytest

from sim.pose import pose_of
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked
from viewer.session.charts.map_shapes import map_shapes
from viewer.session.charts.travel_map import Floats, travel_map
from viewer.words.now import now_word

RIG = "long-legged-trail-wagon"


def area(outlines: tuple[Floats, ...]) -> float:
    """Area inside the outline without its holes: outer and inner turn opposite ways."""
    total = 0.0
    for points in outlines:
        x, y = points.T
        total += 0.5 * float(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1)))
    return abs(total)


def test_areas_of_the_verdicts_fill_the_map() -> None:
    found = travel_map(checked(RIG), 0.0)
    for layer in found.room:
        shapes = map_shapes(found, layer)
        total = sum(area(piece) for pieces in shapes.areas.values() for piece in pieces)
        assert total == pytest.approx(1.0, abs=1e-9)


def test_an_area_holds_the_poses_of_its_verdict() -> None:
    """Shares of the areas against shares of a much finer grid of poses."""
    found, fine = travel_map(checked(RIG), 0.0), travel_map(checked(RIG), 0.0, 769, 385)
    room = fine.room["pinion"]
    shares = {
        "touches": float((room <= 0.0).mean()),
        "close": float(((room > 0.0) & (room < fine.reserve["pinion"])).mean()),
    }
    shapes = map_shapes(found, "pinion")
    for verdict, share in shares.items():
        drawn = sum(area(piece) for piece in shapes.areas[verdict])
        assert drawn == pytest.approx(share, abs=0.004)


def test_contour_lines_lie_where_their_numbers_say() -> None:
    found = travel_map(checked(RIG), 0.05)
    box = checked(RIG).derivation.vehicle.travel
    for line in map_shapes(found, "pinion").lines:
        x, y = line.pieces[0][len(line.pieces[0]) // 2]
        at = Pose(
            float(-box.droop + x * (box.droop + box.bump)),
            0.05,
            float(-box.nose_down + y * (box.nose_down + box.nose_up)),
        )
        left = pose_of(checked(RIG), at, 0.0).joints["pinion"].left
        assert np.degrees(left) == pytest.approx(line.level, abs=0.02)
        size = f"{abs(line.level):g} deg"
        expected = f"{size} too far" if line.level < 0.0 else size if line.level else "no room left"
        if line.level == found.reserve["pinion"] and "pinion" in found.by_gap:
            expected = "gap as"
        assert line.words.removesuffix(" wanted") == expected


def test_out_of_reach_is_an_area_of_its_own() -> None:
    found = travel_map(checked(RIG), 0.0)
    room = np.array(found.room["worst"])
    room[:, :30] = np.nan
    shapes = map_shapes(replace(found, room={**found.room, "worst": room}), "worst")
    x, _, depth = shapes.middles["beyond"][0]
    assert x < 30 / 96
    assert depth > 0.1
    drawn = sum(area(piece) for pieces in shapes.areas.values() for piece in pieces)
    assert drawn == pytest.approx(1.0 - 30 / 96, abs=1e-9)
    nothing = np.full_like(room, np.nan)
    assert not map_shapes(replace(found, room={"worst": nothing}), "worst").areas


@pytest.mark.parametrize(("rows", "columns"), [(1, 97), (49, 1), (1, 1)])
def test_a_map_without_height_or_width_is_a_band(rows: int, columns: int) -> None:
    found = travel_map(checked(RIG), 0.0)
    room = {layer: values[:rows, -columns:] for layer, values in found.room.items()}
    shapes = map_shapes(replace(found, room=room), "worst")
    assert sum(area(piece) for pieces in shapes.areas.values() for piece in pieces) == (
        pytest.approx(1.0, abs=1e-9)
    )


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "timber-crew-carrier", "marsh-runner"])
def test_words_stand_where_what_they_say_holds(name: str) -> None:
    """Against the check of the very pose at every place that a name may stand at."""
    found, box = travel_map(checked(name), 0.0), checked(name).derivation.vehicle.travel
    for layer in found.room:
        for said, places in map_shapes(found, layer).middles.items():
            depths = [depth for _, _, depth in places]
            assert depths[0] == pytest.approx(max(depths), abs=0.03)
            for x, y, _ in places:
                at = Pose(
                    float(-box.droop + x * (box.droop + box.bump)),
                    0.0,
                    float(-box.nose_down + y * (box.nose_down + box.nose_up)),
                )
                now = pose_of(checked(name), at, 0.0)
                if layer == "worst" and said != "beyond":
                    assert now_word(now) == {"runs out": "RUNS OUT"}.get(said, said.upper())
                elif layer == "slip" and said == "runs out":
                    assert now.slip_left <= 0.0
                elif layer not in ("slip", "worst") and said == "touches":
                    assert now.joints[layer].left <= 0.0


def test_a_slip_that_runs_out_is_not_said_to_touch() -> None:
    found = travel_map(checked(RIG), 0.0)
    room = {**found.room, "slip": found.room["slip"] - 1000.0}
    worst = np.full_like(room["worst"], -1.0)
    short = replace(found, room={**room, "worst": worst})
    assert "touches" not in map_shapes(short, "slip").middles
    assert "runs out" in map_shapes(short, "slip").middles
    both = set(map_shapes(short, "worst").middles)
    assert both == {"touches", "runs out"}, "the joints touch low down whatever the slip does"


def test_lines_say_of_what_they_are() -> None:
    found = travel_map(checked(RIG), 0.0)
    words = [line.words for line in map_shapes(found, "worst").lines]
    assert {"no room left", "room as wanted"} <= set(words)
    assert all("room" in each for each in words)
