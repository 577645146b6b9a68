"""Impossible sets: measurements that contradict one another."""

import pytest

from sim.rig import parse_rig
from sim.rig.demos import demo_text
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, only_problem, problems, spoilt
from viewer.words.remarks import said


def ride_height(lines: str) -> str:
    return f"{COORDINATES}\n[ride_height]\n{lines}\n"


# COORDINATES: 36 in back, 1 1/2 in to the right, 8 1/2 in down: 37.02 in; 13.3 deg down.


@pytest.mark.parametrize(
    "lines",
    [
        'length = "37 in"',
        'length = "37-1/8 in"',
        'shaft_points_down = "13 deg"',
        'shaft_points_right = "2 1/2 deg"',
        'pinion_lower = "8 3/4 in"',
        'pinion_right = "1 3/4 in"',
        'length = "37 in"\nshaft_points_down = "13.3 deg"\npinion_lower = "8 1/2 in"',
    ],
)
def test_what_is_said_twice_may_agree(lines: str) -> None:
    rig = parse_rig(ride_height(lines))
    assert rig.ride_height is not None


@pytest.mark.parametrize(
    ("lines", "key", "came", "expected"),
    [
        ('length = "38 in"', "length", '"38 in"', "37 in (940.3 mm)"),
        ('length = "36 in"', "length", '"36 in"', "measure along the shaft"),
        ('shaft_points_down = "16 deg"', "shaft_points_down", '"16 deg"', "13.3 deg down"),
        ('shaft_points_up = "13 deg"', "shaft_points_up", '"13 deg"', "13.3 deg down"),
        ('shaft_points_left = "2 deg"', "shaft_points_left", '"2 deg"', "2.4 deg right"),
        ('pinion_lower = "10 in"', "pinion_lower", '"10 in"', "8 1/2 in"),
        ('pinion_higher = "8 in"', "pinion_higher", '"8 in"', "lower"),
        ('pinion_left = "1 1/2 in"', "pinion_left", '"1 1/2 in"', "right"),
    ],
)
def test_what_is_said_twice_must_not_contradict(
    lines: str, key: str, came: str, expected: str
) -> None:
    problem = only_problem(ride_height(lines))
    assert problem.key == f"ride_height.{key}"
    assert problem.came == came
    assert expected in said(problem.expected)


def test_an_eighth_of_an_inch_is_where_a_length_starts_to_contradict() -> None:
    mm = 940.26
    parse_rig(ride_height(f'length = "{mm + 3.1} mm"'))
    assert problems(ride_height(f'length = "{mm + 3.3} mm"'))


def test_slope_and_height_difference_of_a_phone_call_must_agree() -> None:
    # 36 5/16 in at 14 deg is 8.79 in lower; 1 deg is 0.63 in.
    agrees = spoilt(PHONE_CALL, ('"14 deg"', '"14 deg"\npinion_lower = "9 1/4 in"'))
    assert parse_rig(agrees).ride_height is not None
    problem = only_problem(spoilt(agrees, ("9 1/4", "10")))
    assert problem.key == "ride_height.pinion_lower"
    assert "8 13/16 in" in said(problem.expected)
    assert "contradict" in said(problem.why)


@pytest.mark.parametrize("lower", ["36 5/16 in", "40 in"])
def test_joints_cannot_be_farther_apart_in_height_than_along_the_shaft(lower: str) -> None:
    problem = only_problem(
        spoilt(PHONE_CALL, ('shaft_points_down = "14 deg"', f'pinion_lower = "{lower}"'))
    )
    assert problem.key == "ride_height.length"
    assert "too short" in said(problem.why)


def test_a_length_in_the_wrong_unit_is_shorter_than_two_yokes() -> None:
    problem = only_problem(spoilt(PHONE_CALL, ('"36 5/16 in"', '"36.3 mm"')))
    assert problem.key == "ride_height.length"
    assert "is the unit right?" in said(problem.expected)


def test_joints_given_in_the_wrong_unit() -> None:
    text = spoilt(COORDINATES, ('["47 in", "1 1/2 in", "9 in"]', '["12 in", "0 in", "1 in"]'))
    problem = only_problem(text)
    assert problem.key == "output.joint"
    assert "from the pinion joint" in said(problem.why)


@pytest.mark.parametrize("lines", ['length = "36 in"', 'shaft_points_down = "14 deg"'])
def test_half_a_phone_call_names_the_missing_half(lines: str) -> None:
    text = PHONE_CALL.replace('length = "36 5/16 in"\nshaft_points_down = "14 deg"', lines)
    problem = only_problem(text)
    assert problem.came == "nothing"
    missing = "shaft_points_down" if "length" in lines else "length"
    assert problem.key == f"ride_height.{missing}"
    assert "is missing" in said(problem.expected)


def test_a_pinion_ahead_of_the_output_on_a_rear_axle() -> None:
    text = spoilt(COORDINATES, ('"47 in"', '"5 in"'))
    problem = only_problem(text)
    assert problem.key == "output.joint[1]"
    assert "behind the output joint on a rear axle" in said(problem.expected)


def test_a_pinion_behind_the_output_on_a_front_axle() -> None:
    front = spoilt(
        COORDINATES,
        ('"rear"', '"front"'),
        ('["11 in", "0 in", "1/2 in"]', '["-11 in", "0 in", "1/2 in"]'),
    )
    problem = only_problem(front)
    assert problem.key == "output.joint[1]"
    assert "ahead of the output joint on a front axle" in said(problem.expected)
    assert parse_rig(spoilt(front, ('"47 in"', '"-47 in"'))).axle.front


@pytest.mark.parametrize(
    ("position", "forward", "side"),
    [("rear", "-11 in", "forward, a positive"), ("front", "11 in", "rearward, a negative")],
)
def test_a_pinion_on_the_wrong_side_of_its_axle(position: str, forward: str, side: str) -> None:
    output = "47 in" if position == "rear" else "-47 in"
    text = spoilt(
        COORDINATES,
        ('"rear"', f'"{position}"'),
        ('["11 in", "0 in", "1/2 in"]', f'["{forward}", "0 in", "1/2 in"]'),
        ('["47 in"', f'["{output}"'),
    )
    problem = only_problem(text)
    assert problem.key == "axle.pinion_joint[1]"
    assert side in said(problem.expected)


def test_joints_past_a_right_angle() -> None:
    text = spoilt(
        PHONE_CALL,
        ('points_down = "3 deg"', 'points_up = "60 deg"'),
        ('shaft_points_down = "14 deg"', 'shaft_points_down = "40 deg"'),
        ('points_up = "1 deg"\n', 'points_down = "55 deg"\n'),
    )
    found = problems(text)
    assert set(found) == {"output.points_up", "axle.points_down"}
    assert found["output.points_up"].came == '"60 deg"'
    assert "bends the output joint 100.0 deg at ride height" in said(found["output.points_up"].why)
    assert "is up or down mixed up?" in said(found["output.points_up"].expected)


def test_readings_that_go_with_the_rest() -> None:
    assert parse_rig(PHONE_CALL + MEASURED)


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('"36 5/16 in"', '"37 in"', "readings[2].length", "contradicts ride height"),
        ('points_up = "1 deg"', 'points_up = "3 deg"', "readings[2].points_up", "contradicts"),
        ('points_up = "1 deg"', 'points_down = "1 deg"', "readings[2].points_down", "contrad"),
        ('"35 1/2 in"', '"38 in"', "readings[1].length", "longer than at ride height"),
        ('"39 1/8 in"', '"34 in"', "readings[3].length", "shorter than at ride height"),
        ('"39 1/8 in"', '"15 in"', "readings[3].length", "too short at 8 in droop"),
        ('"8 in droop"', '"4 in bump"', "readings[3].at", "is read before"),
        ('"8 in droop"', '"0 in droop"', "readings[3].at", "ride is read before"),
    ],
)
def test_readings_that_cannot_be(old: str, new: str, key: str, says: str) -> None:
    found = problems(PHONE_CALL + spoilt(MEASURED, (old, new)))
    problem = found[f"suspension.{key}"]
    assert says in said(problem.why)


def test_a_bump_length_longer_than_the_ride_length_names_both_ways_out() -> None:
    problem = only_problem(PHONE_CALL + spoilt(MEASURED, ('"35 1/2 in"', '"38 in"')))
    assert "are bump and droop mixed up?" in said(problem.expected)
    assert "fore-aft at 4 in bump" in said(problem.why)


LEAF = COORDINATES


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('["0 in", "20 in", "3 in"]', '["0 in", "-20 in", "3 in"]', "seat[2]", "the left"),
        ('["0 in", "20 in", "3 in"]', '["0 in", "0 in", "3 in"]', "seat[2]", "the left"),
        ('["24 in", "20 in"', '["0 in", "20 in"', "fixed_eye[1]", "ahead of the seat or behind"),
        ('seat = ["0', 'shackled_eye = ["28 in", "20 in", "5 in"]\nseat = ["0', "shackled_eye[1]",
         "other end"),
    ],
)  # fmt: skip
def test_leaf_springs_that_cannot_be(old: str, new: str, key: str, says: str) -> None:
    problem = only_problem(spoilt(LEAF, (old, new)))
    assert problem.key == f"suspension.{key}"
    assert says in said(problem.expected)


def test_travel_out_of_a_leaf_springs_reach() -> None:
    problem = only_problem(spoilt(LEAF, ('droop = "8 in"', 'droop = "30 in"')))
    assert problem.key == "travel.droop"
    assert "out of the leaf spring's reach" in said(problem.why)
    found = only_problem(
        spoilt(LEAF, ('droop = "8 in"', 'droop = "16 in"'), ('roll = "8 deg"', 'roll = "20 deg"'))
    )
    assert "with the roll" in said(found.why)


def test_no_travel_at_all_is_possible() -> None:
    rig = parse_rig(spoilt(PHONE_CALL, ('"4 in"', '"0 in"'), ('"8 in"', '"0 mm"')))
    assert rig.travel.bump.mm == rig.travel.droop.mm == 0.0


@pytest.mark.parametrize(
    ("old", "new", "key", "why", "expected"),
    [
        (
            'pinion_yoke = "strap yoke"',
            'pinion_yoke = "strp yoke"',
            "pinion_end.pinion_yoke",
            "unknown kind of yoke",
            "strap yoke, the nearest of weld yoke,",
        ),
        (
            'pinion_yoke = "strap yoke"',
            'pinion_yoke = { kind = "strap yoke", throat_dept = "1 in" }',
            "pinion_end.pinion_yoke.throat_dept",
            "unknown dimension",
            "throat_depth, the nearest of",
        ),
        (
            'pinion_yoke = "strap yoke"',
            'pinion_yoke = { kind = "strap yoke", throat_depth = "10 deg" }',
            "pinion_end.pinion_yoke.throat_depth",
            "not of its kind",
            'a length such as "1 3/8 in": from the cross center to the floor of the throat',
        ),
        (
            'output_yoke = "flange yoke"',
            'output_yoke = { kind = "flange yoke", bolts = "4 in" }',
            "output_end.output_yoke.bolts",
            "not of its kind",
            "a whole number such as 6",
        ),
        (
            'output_yoke = "flange yoke"',
            'output_yoke = { kind = "flange yoke", throat_depth = "9 in" }',
            "output_end.output_yoke",
            "throat_depth",
            "dimensions of one sound part",
        ),
        (
            'output_yoke = "flange yoke"',
            'output_yoke = "sliding yoke"',
            "output_end.output_yoke",
            'the slip is at "shaft"',
            "another yoke for",
        ),
        (
            'slip = { at = "shaft"',
            'slip = { at = "output"',
            "output_end.output_yoke",
            'the slip is at "output"',
            "a sliding yoke for a slip at the output",
        ),
    ],
)
def test_parts_that_cannot_be(old: str, new: str, key: str, why: str, expected: str) -> None:
    problem = only_problem(spoilt(COORDINATES, (old, new)))
    assert problem.key == f"shaft.{key}"
    assert why in said(problem.why)
    assert expected in said(problem.expected)


def test_an_unknown_cross_is_told_at_each_end() -> None:
    found = problems(COORDINATES.replace('"27 x 82"', '"27 x 83"'))
    assert set(found) == {"shaft.output_end.cross", "shaft.pinion_end.cross"}
    assert said(found["shaft.output_end.cross"].expected).startswith("27 x 82, the nearest of")


@pytest.mark.parametrize("name", ["27x82", "1310", "27 X 82", "27 \N{MULTIPLICATION SIGN} 82"])
def test_a_cross_goes_by_its_size_or_its_trade_number(name: str) -> None:
    rig = parse_rig(COORDINATES.replace('"27 x 82"', f'"{name}"'))
    assert rig.shaft.pinion_end.cross.name == name


def test_a_cross_of_ones_own_is_checked_too() -> None:
    text = COORDINATES.replace(
        'cross = "27 x 82"\noutput', 'cross = { size = "1310", trunnion_diameter = "2 in" }\noutput'
    )
    problem = only_problem(text)
    assert problem.key == "shaft.output_end.cross"
    assert "trunnion_diameter = 2 in" in problem.came
    assert "leaves no room" in said(problem.why)


@pytest.mark.parametrize(
    ("length", "head", "fits"),
    [("4 in", False, False), ("5 in", False, True), ("5 in", True, False), ("6 in", True, True)],
)
def test_a_shaft_has_room_for_its_two_yokes(length: str, head: bool, fits: bool) -> None:
    """Two weld yokes take 54 mm each, 4 1/4 in; an ordinary head 35 mm more, span less ball."""
    double = '\n[shaft.output_end]\njoint = "double"\n' if head else ""
    text = spoilt(PHONE_CALL, ('"36 5/16 in"', f'"{length}"')) + double
    if fits:
        parse_rig(text)
        return
    problem = only_problem(text)
    assert problem.key == "ride_height.length"
    assert problem.came == f'"{length}"'
    assert f"more than the {'5 5/8' if head else '4 1/4'} in" in said(problem.expected)


def test_a_front_section_has_room_for_its_yoke() -> None:
    """Nothing is left of a front tube between a yoke of 57 mm and a stub that reaches it."""
    text = demo_text("timber-crew-carrier")
    parse_rig(spoilt(text, ('bearing_stub = "4 in"', 'bearing_stub = "32 in"')))
    problem = only_problem(spoilt(text, ('bearing_stub = "4 in"', 'bearing_stub = "33 in"')))
    assert problem.key == "carrier.bearing"
    assert "2 1/4 in" in said(problem.expected)


def test_a_head_ahead_of_a_carrier_bearing_is_refused() -> None:
    text = demo_text("timber-crew-carrier")
    end = "[shaft.output_end]\n"
    problem = only_problem(spoilt(text, (end, f'{end}joint = "double"\n')))
    assert problem.key == "shaft.output_end.joint"
    assert "pinion" in said(problem.expected)
