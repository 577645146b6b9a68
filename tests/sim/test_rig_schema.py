"""What a rig file may say, and what each wrong value is answered with."""

import math

import pytest
import tomlkit
from pydantic import ValidationError

from sim.rig import RigError, parse_rig, rig_from_data
from sim.suspension.leaf.table import LeafTable
from sim.suspension.measured.reading import parse_height
from sim.suspension.measured.table import MeasuredTable
from sim.suspension.vertical import VerticalTable
from sim.table.reading import parse_toml
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, only_problem, problems, spoilt
from viewer.words.remarks import said


def test_a_full_file_keeps_every_text_and_assumes_nothing() -> None:
    rig = parse_rig(COORDINATES)
    assert rig.assumed == ()
    assert rig.name == "Test wagon, rear shaft"
    assert rig.output.joint is not None
    assert [length.typed for length in rig.output.joint] == ["47 in", "1 1/2 in", "9 in"]
    assert rig.output.down == pytest.approx(math.radians(3.0), rel=1e-15)
    assert rig.output.left == pytest.approx(math.radians(-1.0), rel=1e-15)
    assert rig.axle.up == pytest.approx(math.radians(1.0), rel=1e-15)
    assert rig.axle.pinion_joint is not None
    assert rig.axle.pinion_joint[2].mm == 12.7
    assert rig.travel.droop.mm == 203.2
    assert isinstance(rig.suspension, LeafTable)
    assert rig.shaft.tube.wall.mm == pytest.approx(2.1082, rel=1e-15)
    assert rig.shaft.slip.comes_apart is not None
    assert rig.shaft.output_end.output_yoke.kind == "flange yoke"
    assert rig.surroundings[0].box.size[1].typed == "30 in"


def test_a_phone_call_is_enough() -> None:
    rig = parse_rig(PHONE_CALL)
    assert rig.ride_height is not None
    assert rig.ride_height.down == pytest.approx(math.radians(14.0), rel=1e-15)
    assert isinstance(rig.suspension, VerticalTable)
    assert rig.axle.position == "rear"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('points_down = "3 deg"', 'points_up = "3 deg"'),
        ('points_right = "1 deg"', 'points_left = "1 deg"'),
    ],
)
def test_the_opposite_word_is_the_opposite_sign(old: str, new: str) -> None:
    one = parse_rig(COORDINATES).output
    other = parse_rig(spoilt(COORDINATES, (old, new))).output
    assert abs(one.down) == abs(other.down)
    assert abs(one.left) == abs(other.left)
    assert (one.down, one.left) != (other.down, other.left)


def test_a_rig_cannot_be_changed() -> None:
    rig = parse_rig(COORDINATES)
    with pytest.raises(ValidationError, match="frozen"):
        rig.name = "other"
    with pytest.raises(ValidationError, match="frozen"):
        rig.travel.bump = rig.travel.droop
    with pytest.raises(TypeError):
        rig.shaft.output_end.output_yoke.overrides["throat_depth"] = 3.0  # type: ignore[index]


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ('"4"', "no unit after 4"),
        ("4", "a number without a unit"),
        ("4.5", "a number without a unit"),
        ("nan", "not a finite number"),
        ("inf", "not a finite number"),
        ("-inf", "not a finite number"),
        ('"nan in"', "not a number with a unit"),
        ('"inf in"', "not a number with a unit"),
        ('"4 deg"', "deg measures an angle"),
        ('"4 s"', "unknown unit s"),
        ('"4 inchez"', "did you mean inches?"),
        ('"4,5 in"', "a comma can be read two ways"),
        ('"90 m"', "longer than any vehicle"),
        ("true", "not a text"),
        ("2024-01-01", "not a text"),
        ('["4 in"]', "not a text"),
        ('{ in = "4" }', "not a text"),
        ('""', "empty"),
    ],
)
def test_a_wrong_length_is_told_in_one_line(value: str, why: str) -> None:
    problem = only_problem(spoilt(COORDINATES, ('bump = "4 in"', f"bump = {value}")))
    assert problem.key == "travel.bump"
    assert why in problem.why
    assert "a length with its unit" in problem.expected or "unit right" in problem.expected
    assert "\n" not in str(problem)


@pytest.mark.parametrize(
    ("old", "new", "key", "expected"),
    [
        ('bump = "4 in"', 'bump = "-4 in"', "travel.bump", "the other direction is droop"),
        (
            '[output]\njoint = ["47 in", "1 1/2 in", "9 in"]\npoints_down = "3 deg"',
            '[output]\njoint = ["47 in", "1 1/2 in", "9 in"]\npoints_down = "-3 deg"',
            "output.points_down",
            "the other direction is points_up",
        ),
        ('nose_down = "4 deg"', 'nose_down = "-4 deg"', "travel.nose_down", "is nose_up"),
        ('roll = "8 deg"', 'roll = "-8 deg"', "travel.roll", "zero or more"),
        ('apart = "32 in"', 'apart = "-32 in"', "travel.stops_apart", "zero or more"),
        ('strap = "sides"', 'strap = "left"', "travel.droop_strap", '"sides" or "middle"'),
        ('= "100 %"', '= "110 %"', "travel.wrap_at_droop", "from 0 to 100 %"),
        ('= "100 %"', "= 0.4", "travel.wrap_at_droop", "from 0 to 100 %"),
        ('roll = "8 deg"', 'roll = "45 deg"', "travel.roll", "an angle under 45 deg"),
        ('points_up = "1 deg"', 'points_up = "90 deg"', "axle.points_up", "under 90 deg"),
        ('outside = "3 in"', 'outside = "-3 in"', "shaft.tube.outside", "a length above zero"),
        ('outside = "3 in"', 'outside = "0 in"', "shaft.tube.outside", "a length above zero"),
        ('wall = "0.083 in"', 'wall = "1.6 in"', "shaft.tube.wall", "half the outside"),
        ('closes = "1 1/4 in"', 'closes = "-1 in"', "shaft.slip.closes", "direction is opens"),
        ('apart = "4 in"', 'apart = "2 in"', "shaft.slip.comes_apart", "as it opens"),
        ('gap = "1/16 in"', 'gap = "-1/16 in"', "wanted.gap", "zero or more"),
        ('position = "rear"', 'position = "back"', "axle.position", '"rear" or "front"'),
        ('kind = "leaf"', 'kind = "coil"', "suspension.kind", '"vertical", "measured", "leaf"'),
        ('kind = "leaf"', "", "suspension.kind", '"vertical", "measured", "leaf"'),
        ('at = "shaft"', 'at = "middle"', "shaft.slip.at", '"shaft" or "output"'),
        ("schema = 1", "schema = 2", "schema", "schema = 1"),
        ("schema = 1", 'schema = "1"', "schema", "schema = 1"),
        ("schema = 1", "schema = true", "schema", "schema = 1"),
        ('name = "Test wagon, rear shaft"', "name = 3", "name", "a text in quotes"),
        ('name = "Test wagon, rear shaft"', 'name = ""', "name", "at least 1 character"),
        ('["3 in", "30 in", "3 in"]', '["3 in"]', "surroundings[1].box.size", "three lengths"),
        (
            '["3 in", "30 in", "3 in"]',
            '["3 in", "0 in", "3 in"]',
            "surroundings[1].box.size[2]",
            "a length above zero",
        ),
        ('["24 in", "20 in", "4 in"]', '"24 in"', "suspension.fixed_eye", "three lengths"),
        ('phase = "0 deg"', 'phase = "180 deg"', "shaft.phase", "under 180 deg"),
    ],
)
def test_each_wrong_value_names_its_key_and_what_was_expected(
    old: str, new: str, key: str, expected: str
) -> None:
    problem = only_problem(spoilt(COORDINATES, (old, new)))
    assert problem.key == key
    assert expected in said(problem.expected)


@pytest.mark.parametrize("section", ["output", "axle", "travel", "shaft", "suspension", "wanted"])
def test_a_value_where_a_table_belongs(section: str) -> None:
    found = problems(f"{section} = 3\n" + PHONE_CALL.replace(f"[{section}]", f"[{section}x]"))
    assert found[section].came == "3"
    assert found[section].expected == "a table"


def test_what_decides_the_answer_is_never_assumed() -> None:
    found = problems("schema = 1\n")
    assert {key for key, problem in found.items() if problem.came == "nothing"} == {
        "output.points_down",
        "axle.points_up",
        "travel.bump",
        "travel.droop",
    }
    problem = only_problem(
        """
        output.points_down = "3 deg"
        axle.points_up = "1 deg"
        travel = { bump = "4 in", droop = "4 in" }
        """
    )
    assert problem.key == "output.joint"
    assert "length and the slope of the shaft" in said(problem.expected)


def test_everything_is_told_at_once() -> None:
    text = spoilt(
        COORDINATES,
        ('joint = ["47 in"', 'jiont = ["47 in"'),
        ('points_up = "1 deg"', 'points_up = "1"'),
        ('bump = "4 in"', 'bump = "-4 in"'),
        ('kind = "leaf"', 'kind = "leef"'),
        ('wall = "0.083 in"', 'wall = "4 in"'),
        ('gap = "1/16 in"', "gap = 1"),
    )
    assert set(problems(text)) == {
        "output.jiont",
        "axle.points_up",
        "travel.bump",
        "suspension.kind",
        "shaft.tube.wall",
        "wanted.gap",
    }


def test_a_contradiction_is_told_beside_faults_in_other_sections() -> None:
    text = spoilt(
        COORDINATES + '\n[ride_height]\nlength = "40 in"\n', ('bump = "4 in"', 'bump = "4"')
    )
    assert set(problems(text)) == {"travel.bump", "ride_height.length"}


@pytest.mark.parametrize(
    ("old", "new", "key", "expected"),
    [
        ("points_right", "point_right", "output.point_right", "points_right, the nearest"),
        ("pinion_joint", "pinion-joint", "axle.pinion-joint", "pinion_joint, the nearest"),
        ("nose_up", "Nose_Up", "travel.Nose_Up", "nose_up, the nearest"),
        ("comes_apart", "comes_appart", "shaft.slip.comes_appart", "comes_apart, the nearest"),
        ("[wanted]", "[wannted]", "wannted", "wanted, the nearest"),
        ("gap =", "bump =", "wanted.bump", "this key in [travel], where it is known"),
        ("gap =", "zzz =", "wanted.zzz", "one of bend, gap, clearance, slip"),
        ('name = "crossmember"', 'nam = "crossmember"', "surroundings[1].nam", "name, the"),
        ('at = ["30', 'att = ["30', "surroundings[1].box.att", "at, the nearest"),
    ],
)
def test_an_unknown_key_gets_the_nearest_known_one(
    old: str, new: str, key: str, expected: str
) -> None:
    problem = only_problem(spoilt(COORDINATES, (old, new)))
    assert problem.key == key
    assert problem.why == "unknown key"
    assert expected in said(problem.expected)


def test_a_misspelt_key_is_one_problem_and_not_also_a_missing_one() -> None:
    assert only_problem(spoilt(PHONE_CALL, ("bump", "bumb"))).key == "travel.bumb"
    assert only_problem(spoilt(PHONE_CALL, ("points_up", "point_up"))).key == "axle.point_up"


@pytest.mark.parametrize("table", ["travel", "output", "axle"])
def test_a_misspelt_table_is_one_problem_and_its_keys_are_not_missing_too(table: str) -> None:
    tables = parse_toml(PHONE_CALL)
    tables[f"{table[:-1]}x"] = tables.pop(table)
    assert only_problem(tomlkit.dumps(tables)).key == f"{table[:-1]}x"


@pytest.mark.parametrize(
    ("table", "one", "other"),
    [
        ("output", "points_down", "points_up"),
        ("output", "points_left", "points_right"),
        ("axle", "points_up", "points_down"),
        ("ride_height", "shaft_points_down", "shaft_points_up"),
        ("ride_height", "shaft_points_left", "shaft_points_right"),
    ],
)
def test_two_opposite_words_cannot_both_stand(table: str, one: str, other: str) -> None:
    tables = parse_toml(PHONE_CALL)
    tables[table] |= {one: "2 deg", other: "2 deg"}
    problem = only_problem(tomlkit.dumps(tables))
    assert problem.key == f"{table}.{other}"
    assert said(problem.expected) == f"only one of {one} and {other}"


def test_pinion_joint_and_snout_cannot_both_stand() -> None:
    text = spoilt(COORDINATES, ('points_up = "1 deg"', 'points_up = "1 deg"\nsnout = "11 in"'))
    assert said(only_problem(text).expected) == "only one of pinion_joint and snout"


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("ride", 0.0),
        ("Ride height", 0.0),
        ("4 in bump", 101.6),
        ('4 1/2" Bump', 114.3),
        ("8 in droop", -203.2),
        ("200mm droop", -200.0),
        ("0 in droop", 0.0),
    ],
)
def test_heights_are_read_as_they_are_said(text: str, mm: float) -> None:
    assert parse_height(text).mm == mm
    assert math.copysign(1.0, parse_height(text).mm) == math.copysign(1.0, mm)


@pytest.mark.parametrize(
    ("at", "why"),
    [
        ('"4 in"', "no direction"),
        ('"4 in up"', "no direction"),
        ('"4 bump"', "no unit"),
        ('"-4 in bump"', "negative"),
        ("4", "not a text"),
        ('"90 m droop"', "longer than any vehicle"),
    ],
)
def test_a_height_needs_a_direction_and_a_unit(at: str, why: str) -> None:
    text = PHONE_CALL + spoilt(MEASURED, ('"4 in bump"', at))
    problem = only_problem(text)
    assert problem.key == "suspension.readings[1].at"
    assert why in problem.why


def test_three_readings_or_more() -> None:
    text = PHONE_CALL + MEASURED[: MEASURED.rindex("[[")]
    problem = only_problem(text)
    assert problem.key == "suspension.readings"
    assert problem.came == "an array of 2"
    assert "3 or more heights" in said(problem.expected)


def test_measured_readings() -> None:
    rig = parse_rig(PHONE_CALL + MEASURED)
    assert isinstance(rig.suspension, MeasuredTable)
    assert [reading.at.mm for reading in rig.suspension.readings] == [101.6, 0.0, -203.2]


def test_an_empty_or_foreign_file_is_still_told_key_by_key() -> None:
    assert "output.points_down" in problems("# nothing here\n")
    found = problems('[package]\nname = "something else"\n')
    assert found["package"].why == "unknown key"


def test_data_that_is_no_toml_text_can_be_checked_too() -> None:
    with pytest.raises(RigError) as caught:
        rig_from_data({"output": None, "axle": [1, 2]}, "study")
    assert str(caught.value).count("\n") > 2


def test_a_choice_may_override_dimensions_of_the_catalogue() -> None:
    table = '{ kind = "flange yoke", throat_depth = "1 3/8 in", bolts = 4 }'
    yoke = parse_rig(
        spoilt(COORDINATES, ('output_yoke = "flange yoke"', f"output_yoke = {table}"))
    ).shaft.output_end.output_yoke
    assert (yoke.name, yoke.kind) == ("flange yoke", "flange yoke")
    assert dict(yoke.overrides) == {"throat_depth": 34.925, "bolts": 4.0}
    assert str(yoke.own["throat_depth"]) == "1 3/8 in"
    tilted = parse_rig(
        COORDINATES.replace(
            '"27 x 82"\noutput', '{ size = "27 x 82", fitting_tilt = "10 deg" }\noutput'
        )
    ).shaft.output_end.cross
    assert tilted.overrides["fitting_tilt"] == pytest.approx(math.radians(10.0), rel=1e-15)


@pytest.mark.parametrize(
    "value", ['"0 in"', '"-1 in"', '"1"', "1.5", "0", "-2", "true", "[1]", '"90 m"']
)
def test_a_dimension_of_ones_own_is_checked_like_any_other(value: str) -> None:
    table = f'{{ kind = "flange yoke", throat_depth = {value} }}'
    problem = only_problem(
        spoilt(COORDINATES, ('output_yoke = "flange yoke"', f"output_yoke = {table}"))
    )
    assert problem.key == "shaft.output_end.output_yoke.throat_depth"
    assert "a length, an angle or a count" in problem.expected
