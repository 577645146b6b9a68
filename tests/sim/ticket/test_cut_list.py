"""What is cut: pieces that add up, lands as the meshes have them, the smaller reserve kept."""

from math import isclose

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.derive import vehicle_of
from sim.line import turn
from sim.rig import Rig, changed, demo_names, load_demo
from sim.search.envelope import envelope
from sim.ticket.cut_list import TOLERANCE, Cut, CutList, cut_list, rounded_cut
from sim.ticket.pieces import pieces_of
from sim.ticket.slip_plan import SIXTEENTH, Split, slip_plan
from tests.sim.rigs import parts_of
from tests.sim.ticket.rigs import demo_ticket, plain

STUB = {"carrier.bearing_stub": "4 in"}


def cuts_of(rig: Rig) -> CutList:
    plan = slip_plan(rig, envelope(vehicle_of(rig)))
    return cut_list(rig, pieces_of(rig, parts_of(rig)), plan)


def last(rig: Rig) -> Cut:
    return cuts_of(rig).cuts[-1]


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_the_parts_of_a_piece_are_its_length(name: str) -> None:
    for cut in demo_ticket(name).cuts.cuts:
        total = sum(part.length for part in cut.parts)
        # A slip takes up what the tube is rounded by; where none does, the piece is so much off.
        off = 0.0 if cut.slip_set is not None else cut.rounded
        assert total == pytest.approx(cut.piece.length + off, abs=1e-9)
        assert abs(cut.rounded) < SIXTEENTH
        for part in cut.tubes:
            assert isclose(part.length / SIXTEENTH, round(part.length / SIXTEENTH), abs_tol=1e-9)


@pytest.mark.parametrize("name", ["long-legged-trail-wagon", "short-tailed-scout"])
def test_tube_and_slip_fill_what_the_posed_yokes_leave(name: str) -> None:
    """The same from the meshes of the yokes, placed by the line at ride height."""
    rig = load_demo(name)
    parts = parts_of(rig)
    X = turn(vehicle_of(rig), 0.0, 0.0, 0.0, 0.0).X_C
    ends = []
    for part, yoke in (
        ("output shaft yoke", parts["output"].driven),
        ("pinion shaft yoke", parts["pinion"].driving),
    ):
        body = yoke.parts["body"]
        pilot = yoke.dimensions["pilot_length"]
        land = float(body.bounds[1, 0]) - pilot
        ends.append(X[part][:3, :3] @ np.array([land, 0.0, 0.0]) + X[part][:3, 3])
    between = float(np.linalg.norm(ends[0] - ends[1]))
    cut = demo_ticket(name).cuts.cuts[0]
    assert cut.cut is not None
    assert cut.slip_set is not None
    assert cut.cut + cut.slip_set == pytest.approx(between, abs=1e-6)


@given(
    tube=st.floats(50.0, 2000.0),
    closes_left=st.floats(-50.0, 50.0),
    opens_left=st.floats(-50.0, 50.0),
)
def test_rounding_never_takes_from_the_smaller_reserve(
    tube: float, closes_left: float, opens_left: float
) -> None:
    split = Split("slip", 50.0, 50.0, closes_left, opens_left, None, 19.0)
    cut = rounded_cut(tube, split)
    assert abs(cut - tube) < SIXTEENTH
    assert isclose(cut / SIXTEENTH, round(cut / SIXTEENTH), abs_tol=1e-6)
    after = split.closed_by(cut - tube)
    if closes_left < opens_left:
        assert after.closes_left >= closes_left - 1e-4
    if opens_left < closes_left:
        assert after.opens_left >= opens_left - 1e-4


@pytest.mark.slow
def test_a_shaft_built_off_moves_both_reserves() -> None:
    cut = last(plain())
    assert cut.split is not None
    assert cut.off is not None
    long, short = cut.off
    assert long.closes_left == pytest.approx(cut.split.closes_left - TOLERANCE, abs=1e-9)
    assert long.opens_left == pytest.approx(cut.split.opens_left + TOLERANCE, abs=1e-9)
    assert short.closes_left == pytest.approx(cut.split.closes_left + TOLERANCE, abs=1e-9)
    assert short.opens_left == pytest.approx(cut.split.opens_left - TOLERANCE, abs=1e-9)


@pytest.mark.slow
def test_an_own_slip_changes_the_tube_inch_for_inch() -> None:
    short = last(changed(plain(), {"shaft.slip.pushed_home": "9 in"}))
    long = last(changed(plain(), {"shaft.slip.pushed_home": "10 in"}))
    assert short.cut is not None
    assert long.cut is not None
    assert short.cut - long.cut == pytest.approx(25.4, abs=1e-9)
    generic = cuts_of(plain())
    assert [each.key for each in generic.assumed] == ["shaft.slip.pushed_home"]
    assert cuts_of(changed(plain(), {"shaft.slip.pushed_home": "9 in"})).assumed == ()


@pytest.mark.slow
def test_an_own_weld_land_changes_the_tube() -> None:
    before = last(plain()).tube
    yoke = {"kind": "weld yoke", "weld_land": "60 mm"}
    after = last(changed(plain(), {"shaft.pinion_end.shaft_yoke": yoke})).tube
    land = pieces_of(plain(), parts_of(plain()))[0].last.land
    assert before is not None
    assert after is not None
    assert land is not None
    assert before - after == pytest.approx(60.0 - land, abs=1e-9)


@pytest.mark.slow
def test_a_front_tube_needs_the_stub_of_its_bearing() -> None:
    rig = changed(load_demo("timber-crew-carrier"), {"carrier.bearing_stub": None})
    found = cuts_of(rig)
    assert [each.key for each in found.missing] == ["carrier.bearing_stub"]
    assert found.cuts[0].cut is None
    assert found.cuts[1].cut is not None
    whole = cuts_of(changed(rig, STUB))
    assert whole.missing == ()
    front = whole.cuts[0]
    assert front.tube == pytest.approx(
        front.piece.length - 3.5 * 25.4 - 4.0 * 25.4 - (front.piece.first.to_tube or 0.0), abs=1e-9
    )


def test_a_yoke_without_a_weld_is_named_and_nothing_is_cut() -> None:
    rig = changed(plain(), {"shaft.pinion_end.shaft_yoke": "flange yoke"})
    found = cuts_of(rig)
    assert [each.key for each in found.missing] == ["shaft.pinion_end.shaft_yoke.weld_land"]
    assert found.cuts[0].parts == ()
    assert found.cuts[0].cut is None


@pytest.mark.slow
def test_no_room_for_a_tube_is_said() -> None:
    rig = changed(plain(), {"shaft.slip.pushed_home": "35 in"})
    assert [flag.code for flag in cuts_of(rig).flags] == ["no-tube"]
    rig = changed(plain(), {"shaft.slip.pushed_home": "29 in"})
    assert [flag.code for flag in cuts_of(rig).flags] == ["little-tube"]


@pytest.mark.slow
@settings(max_examples=8, deadline=None)
@given(further=st.floats(0.0, 4.0))
def test_an_output_further_off_makes_the_tube_longer(further: float) -> None:
    near, far = (
        last(changed(plain(), {"output.joint": [f"{x:.4f} in", "0 in", "9 in"]}))
        for x in (46.0, 46.5 + further)
    )
    assert near.cut is not None
    assert far.cut is not None
    assert far.cut > near.cut
