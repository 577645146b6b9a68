"""Axle wrap in a rig file: from a test, from springs, from bushes; and what is refused."""

from math import degrees, radians

import jsonschema
import pytest

from sim.derive import derive, vehicle_of
from sim.rig import json_schema, notes, parse_rig, rig_text
from sim.rig.change import changed
from sim.rig.demos import demo_text
from sim.suspension.links.torque import under_torque
from sim.table.default import at
from sim.table.loads import FORCE, TORQUE
from sim.table.reading import parse_toml
from tests.sim.rigs import COORDINATES, only_problem, problems, spoilt
from viewer.words.problems import problem_words
from viewer.words.remarks import said

BARE = spoilt(COORDINATES, ('nose_up = "8 deg"\nnose_down = "4 deg"\n', ""))
DRIVE = """
[wrap.drive]
engine_torque = "400 N m"
low_gear = 4
low_range = 2.5
converter = 1
efficiency = 1
axle_ratio = 4
axle_load = "10 kN"
tyre_radius = "400 mm"
friction = 1
"""
"""16 kN m of low gear, 4 kN m of grip; 10 % and 28 or 32 % off."""
ANGLES = """
[wrap]
kind = "angles"
before = { points_down = "1 deg" }
under_torque = { points_up = "4 deg" }
torque = "2 kN m"
"""
MARK = """
[wrap]
kind = "mark"
rises = "25 mm"
lever = "280 mm"
torque = "2 kN m"
"""
SPRINGS = """
[wrap]
kind = "springs"
rate = "35 N/mm"
ahead = "600 mm"
behind = "600 mm"
seat_higher = "0 mm"
"""
LINKS = "ridge-crawler"
_head, _, _rest = demo_text(LINKS).partition("[travel]")
_travel, _, _tail = _rest.partition("[suspension]")
CRAWLER = (
    f"{_head}[travel]"
    + "\n".join(line for line in _travel.split("\n") if not line.startswith("nose_"))
    + "\n[suspension]" + _tail
)  # fmt: skip
BUSHES = """
[wrap]
kind = "bushes"
"""
EVERY = {
    "angles": BARE + ANGLES + DRIVE,
    "mark": BARE + MARK + DRIVE,
    "springs": BARE + SPRINGS + DRIVE,
    "bushes": CRAWLER + BUSHES + DRIVE,
}
every_kind = pytest.mark.parametrize("text", EVERY.values(), ids=EVERY)


def spread(estimate):
    return [degrees(each) for each in (estimate.low, estimate.value, estimate.high)]


# --- what each kind gives


def test_two_angles_are_carried_to_the_torque_that_the_ground_holds() -> None:
    """5 deg at 2 kN m, read to 1 deg; grip 4 kN m: 10 deg; at the most 6 x 4 x 1.1 x 1.2 / 1.8."""
    found = derive(parse_rig(EVERY["angles"])).wrap
    assert found is not None
    low, most = 4.0 * (4.0 * 0.9 * 0.8) / 2.2, 6.0 * (4.0 * 1.1 * 1.2) / 1.8
    assert spread(found.nose_up) == pytest.approx([low, 10.0, most], rel=1e-12)
    assert found.nose_down == found.nose_up
    assert (found.up_governs, found.down_governs) == ("grip", "grip")
    assert (
        found.torque.driving.low, found.torque.driving.value, found.torque.driving.high
    ) == pytest.approx((2.88e6, 4.0e6, 5.28e6))  # fmt: skip


def test_the_upper_end_is_swept_and_told_with_its_numbers() -> None:
    rig = parse_rig(EVERY["angles"])
    told = derive(rig)
    assert told.wrap is not None
    assert vehicle_of(rig).travel.nose_up == told.wrap.nose_up.high
    assert vehicle_of(rig).travel.nose_down == told.wrap.nose_down.high
    lines = [said(each.remark) for each in told.derived if each.key.startswith("travel.nose_")]
    assert lines[0] == (
        "axle wrap, nose up: about 10.0 deg (5.2 to 17.6), from two angles under a known torque; "
        "2,950 lb-ft (4,000 N m) at the axle driving, tire grip sets it; 17.6 deg is used"
    )
    assert len(lines) == 2
    assert "braking" in lines[1]


def test_weak_low_gear_governs_driving_and_grip_braking() -> None:
    weak = spoilt(EVERY["springs"], ("low_range = 2.5", "low_range = 0.5"))
    found = derive(parse_rig(weak)).wrap
    assert found is not None
    assert (found.up_governs, found.down_governs) == ("engine", "grip")
    assert found.torque.driving.value == pytest.approx(3.2e6)
    assert found.nose_up.value / found.nose_down.value == pytest.approx(0.8)


def test_on_a_front_axle_driving_lowers_the_nose() -> None:
    weak = spoilt(
        EVERY["springs"],
        ("low_range = 2.5", "low_range = 0.5"),
        ('["47 in", "1 1/2 in", "9 in"]', '["-47 in", "1 1/2 in", "9 in"]'),
        ('["11 in", "0 in", "1/2 in"]', '["-11 in", "0 in", "1/2 in"]'),
        ('position = "rear"', 'position = "front"'),
    )
    found = derive(parse_rig(weak)).wrap
    assert found is not None
    assert (found.up_governs, found.down_governs) == ("grip", "engine")
    assert found.nose_down.value / found.nose_up.value == pytest.approx(0.8)


def test_springs_wind_up_as_two_cantilevers() -> None:
    """Computed apart: 12 600 N m/rad each for 35 N/mm and equal halves of 600 mm."""
    found = derive(parse_rig(EVERY["springs"])).wrap
    assert found is not None
    assert found.nose_up.value == pytest.approx(4000.0 / 25_200.0, rel=1e-12)
    assert found.nose_up.high == pytest.approx(5280.0 / (25_200.0 * 0.9), rel=1e-12)


def test_a_leaf_suspension_tells_lengths_and_seat() -> None:
    """Eyes 24 in ahead and 28 in behind of a seat 3 in above the axle."""
    text = spoilt(
        BARE,
        ("fixed_eye =", 'shackled_eye = ["-28 in", "20 in", "5 in"]\nfixed_eye ='),
    )
    bare = '\n[wrap]\nkind = "springs"\nrate = "35 N/mm"\n'
    full = bare + 'ahead = "24 in"\nbehind = "28 in"\nseat_higher = "3 in"\n'
    one, other = (derive(parse_rig(text + wrap + DRIVE)).wrap for wrap in (bare, full))
    assert one == other
    assert one is not None
    under = full.replace("seat_higher", "seat_lower")
    low = derive(parse_rig(text + under + DRIVE)).wrap
    assert low is not None
    share = 76.2 / 400.0
    assert one.nose_up.value / low.nose_up.value == pytest.approx((1 + share) / (1 - share))


def test_leaves_give_the_rate_that_they_have() -> None:
    """E n b t^3 / 6 l^3 for each half: 206 000 x 8 x 60 x 7^3 / 6 / 600^3 = 26.17 N/mm."""
    leaves = spoilt(
        EVERY["springs"], ('rate = "35 N/mm"', 'leaves = 8\nwidth = "60 mm"\nthickness = "7 mm"')
    )
    found = derive(parse_rig(leaves)).wrap
    assert found is not None
    half = 206_000.0 * 8 * 60 * 7**3 / 6 / 600**3
    assert found.nose_up.value == pytest.approx(4.0e6 / (4 * half * 600**2), rel=1e-12)


def test_bushes_are_those_of_the_links() -> None:
    rig = parse_rig(EVERY["bushes"])
    found = derive(rig).wrap
    assert found is not None
    links = rig.suspension.mechanism(rig.axle.front)  # type: ignore[union-attr]
    nominal = abs(float(under_torque(links, 4.0e6, 400.0).wrap))
    assert found.nose_up.value == pytest.approx(nominal, rel=1e-9)
    assert found.nose_up.high > nominal / 0.7
    assert "gives most" in said(found.hints[0])
    stiff = EVERY["bushes"].replace('kind = "links"', 'kind = "links"\nbush_stiffness = "50 kN/mm"')
    stiffer = derive(parse_rig(stiff)).wrap
    assert stiffer is not None
    assert stiffer.nose_up.high < 0.2 * found.nose_up.high
    assert "suspension.bush_stiffness" in {each.key for each in rig.assumed}


@pytest.mark.parametrize(
    "way",
    ['torque = "2 kN m"', 'pinion_torque = "500 N m"', 'pull = "2 kN"\narm = "1 m"'],
)
def test_the_torque_of_a_test_is_said_in_one_of_three_ways(way: str) -> None:
    text = spoilt(EVERY["angles"], ('torque = "2 kN m"', way))
    one, other = (derive(parse_rig(each)).wrap for each in (text, EVERY["angles"]))
    assert one is not None
    assert other is not None
    assert spread(one.nose_up) == pytest.approx(spread(other.nose_up), rel=1e-12)


def test_the_squat_of_the_frame_is_taken_off() -> None:
    frame = 'frame_before = { points_up = "0 deg" }\nframe_under_torque = { points_up = "1 deg" }'
    text = spoilt(EVERY["angles"], ('torque = "2 kN m"', f'torque = "2 kN m"\n{frame}'))
    found = derive(parse_rig(text)).wrap
    assert found is not None
    assert degrees(found.nose_up.value) == pytest.approx(8.0)


def test_a_mark_that_falls_is_a_test_backward() -> None:
    up = derive(parse_rig(EVERY["mark"])).wrap
    down = derive(parse_rig(EVERY["mark"].replace("rises", "falls"))).wrap
    assert up is not None
    assert down is not None
    assert spread(up.nose_up) == pytest.approx(spread(down.nose_up))


def test_a_test_that_shows_nothing_says_so() -> None:
    text = spoilt(EVERY["angles"], ('points_up = "4 deg"', 'points_down = "1/2 deg"'))
    found = derive(parse_rig(text)).wrap
    assert found is not None
    assert found.nose_up.low == 0.0
    assert "no more than its reading errors" in said(found.hints[0])
    far = spoilt(EVERY["angles"], ('torque = "2 kN m"', 'torque = "1 kN m"'))
    assert "on the high side" in " ".join(map(said, derive(parse_rig(far)).wrap.hints))  # type: ignore[union-attr]


# --- the file


@every_kind
def test_it_is_kept_as_typed_and_fits_the_schema_for_editors(text: str) -> None:
    rig = parse_rig(text)
    data = parse_toml(text)
    jsonschema.Draft202012Validator(json_schema()).validate(data)
    assert rig.typed()["wrap"] == data["wrap"]
    assert parse_rig(rig_text(rig)) == rig
    assert rig.travel.nose_up is None
    assert not {"travel.nose_up", "travel.nose_down"} & {each.key for each in rig.assumed}


def test_what_is_left_out_of_the_drive_is_assumed_and_listed() -> None:
    short = EVERY["angles"]
    for key in ("low_range = 2.5", "converter = 1", "efficiency = 1", "friction = 1"):
        short = spoilt(short, (f"\n{key}\n", "\n"))
    assert {each.key for each in parse_rig(short).assumed} == {
        "wrap.drive.low_range", "wrap.drive.converter", "wrap.drive.efficiency",
        "wrap.drive.friction",
    }  # fmt: skip


def test_a_change_of_degrees_takes_the_table_away_and_keeps_the_other_way() -> None:
    rig = parse_rig(EVERY["angles"])
    found = derive(rig).wrap
    assert found is not None
    made = changed(rig, {"travel.nose_up": "1 deg"})
    assert made.wrap is None
    box = vehicle_of(made).travel
    assert box.nose_up == pytest.approx(radians(1.0))
    assert box.nose_down == pytest.approx(found.nose_down.high, abs=1e-12)
    back = changed(made, {"wrap": at(rig.typed(), "wrap")})
    assert back == rig
    heavier = changed(rig, {"wrap.drive.axle_load": "20 kN"})
    assert derive(heavier).wrap.nose_up.value == pytest.approx(2.0 * found.nose_up.value)  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("text", "value"),
    [("300 lb-ft", 406_745.4), ("300 lb ft", 406_745.4), ("400 N m", 4e5), ("0.4 kNm", 4e5),
     ("1 ft-lb", 1355.818), ("nothing", None), ("3 lb", None), ("-3 N m", None)],
)  # fmt: skip
def test_torques_as_typed(text: str, value: float | None) -> None:
    """A pound-foot is 1.355818 N m."""
    assert TORQUE.of(text) == (None if value is None else pytest.approx(value, rel=1e-6))


@pytest.mark.parametrize(
    ("text", "value"),
    [("1900 lb", 8451.62), ("8.5 kN", 8500.0), ("860 kg", 8433.72), ("3 lb-ft", None)],
)
def test_weights_as_typed(text: str, value: float | None) -> None:
    assert FORCE.of(text) == (None if value is None else pytest.approx(value, rel=1e-6))


# --- what is refused


def test_degrees_beside_a_table_are_refused_both_at_once() -> None:
    found = problems(COORDINATES + ANGLES + DRIVE)
    assert set(found) == {"travel.nose_up", "travel.nose_down"}
    assert problem_words(found["travel.nose_up"]) == (
        'travel.nose_up: came "8 deg" ([wrap] is given too), expected only one of the two: degrees '
        "in [travel], or a [wrap] table"
    )


BAD = [
    ("angles", 'kind = "angles"', 'kind = "angle"', "wrap.kind", 'one of "angles", "mark"'),
    ("angles", 'points_down = "1 deg"', "", "wrap.before.points_up", "points_up or points_down"),
    ("angles", 'points_up = "4 deg"', 'points_up = "-4 deg"', "wrap.under_torque.points_up",
     "points_down"),
    ("angles", 'torque = "2 kN m"', "", "wrap.torque", "torque (at the axle)"),
    ("angles", 'torque = "2 kN m"', 'torque = "2 kN m"\npull = "1 kN"\narm = "1 m"', "wrap.pull",
     "only one of"),
    ("angles", 'torque = "2 kN m"', 'pull = "1 kN"', "wrap.arm", "pull with its arm"),
    ("angles", 'torque = "2 kN m"', "torque = 2000", "wrap.torque", "300 lb-ft"),
    ("angles", 'torque = "2 kN m"', 'pinion_torque = "0 N m"', "wrap.pinion_torque", "300 lb-ft"),
    ("angles", 'torque = "2 kN m"', 'pull = "1 mm"\narm = "1 m"', "wrap.pull", "a force"),
    ("angles", 'torque = "2 kN m"', 'pull = "1 kN"\narm = "0 m"', "wrap.arm", "above zero"),
    ("angles", 'torque = "2 kN m"', 'torque = "2 kN m"\nframe_before = { points_up = "1 deg" }',
     "wrap.frame_under_torque", "both readings of the frame"),
    ("angles", "low_gear = 4", "low_geer = 4", "wrap.drive.low_geer", "low_gear, the nearest"),
    ("angles", 'engine_torque = "400 N m"', "", "wrap.drive.engine_torque", "300 lb-ft"),
    ("angles", 'engine_torque = "400 N m"', 'engine_torque = "400 N"',
     "wrap.drive.engine_torque", "a torque"),
    ("angles", "low_gear = 4", 'low_gear = "4"', "wrap.drive.low_gear", "not in quotes"),
    ("angles", "low_range = 2.5", "low_range = 0", "wrap.drive.low_range", "above zero"),
    ("angles", "converter = 1", "converter = -1", "wrap.drive.converter", "above zero"),
    ("angles", "efficiency = 1", "efficiency = 85", "wrap.drive.efficiency", "up to 1"),
    ("angles", "axle_ratio = 4", "axle_ratio = inf", "wrap.drive.axle_ratio", "above zero"),
    ("angles", '"10 kN"', '"10 kN m"', "wrap.drive.axle_load", "a force or weight"),
    ("angles", '"400 mm"', '"0 mm"', "wrap.drive.tyre_radius", "above zero"),
    ("angles", "friction = 1", "friction = 9", "wrap.drive.friction", "up to 2"),
    ("angles", '"2 kN m"', '"0.2 kN m"', "wrap", "less than 45 deg"),
    ("mark", 'rises = "25 mm"', "", "wrap.rises", "rises or falls"),
    ("mark", 'rises = "25 mm"', 'rises = "25 mm"\nfalls = "1 mm"', "wrap.falls", "only one of"),
    ("mark", 'rises = "25 mm"', 'rises = "300 mm"', "wrap.rises", "less than the lever"),
    ("mark", 'lever = "280 mm"', 'lever = "280"', "wrap.lever", "a length with its unit"),
    ("mark", 'lever = "280 mm"', 'lever = "280 mm"\npoints_up = "89 deg"', "wrap",
     "numbers that a wrap can be told from"),
    ("springs", 'rate = "35 N/mm"', "", "wrap.rate", "or leaves"),
    ("springs", 'rate = "35 N/mm"', 'rate = "0 N/mm"', "wrap.rate", "a stiffness"),
    ("springs", 'rate = "35 N/mm"', 'leaves = 7\nwidth = "60 mm"', "wrap.thickness",
     "together"),
    ("springs", 'rate = "35 N/mm"', 'leaves = 0.5\nwidth = "1 in"\nthickness = "1 in"',
     "wrap.leaves", "a whole number"),
    ("springs", 'rate = "35 N/mm"', 'leaves = 5\nwidth = "0 in"\nthickness = "1 in"',
     "wrap.width", "above zero"),
    ("springs", 'rate = "35 N/mm"', 'leaves = 5\nwidth = "1 in"\nthickness = 7',
     "wrap.thickness", "a length"),
    ("springs", 'ahead = "600 mm"', 'ahead = "-600 mm"', "wrap.ahead", "above zero"),
    ("springs", 'behind = "600 mm"', "", "wrap.behind", "shackled_eye"),
    ("springs", 'seat_higher = "0 mm"', 'seat_higher = "0 mm"\nseat_lower = "0 mm"',
     "wrap.seat_lower", "only one of"),
    ("springs", 'seat_higher = "0 mm"', 'seat_lower = "-1 mm"', "wrap.seat_lower", "zero or more"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "old", "new", "key", "expected"), BAD)
def test_each_bad_value_gets_one_line(
    kind: str, old: str, new: str, key: str, expected: str
) -> None:
    problem = only_problem(spoilt(EVERY[kind], (old, new)))
    assert problem.key == key
    assert expected in said(problem.expected)


def test_springs_and_bushes_need_a_suspension_that_has_them() -> None:
    vertical = spoilt(
        BARE,
        ('kind = "leaf"\nfixed_eye = ["24 in", "20 in", "4 in"]\n', 'kind = "vertical"\n'),
        ('seat = ["0 in", "20 in", "3 in"]\n', ""),
    )
    found = problems(vertical + '[wrap]\nkind = "springs"\nrate = "35 N/mm"\n' + DRIVE)
    assert set(found) == {"wrap.ahead", "wrap.behind", "wrap.seat_higher"}
    only = only_problem(vertical + BUSHES + DRIVE)
    assert (only.key, said(only.why)) == ("wrap.kind", 'the suspension is "vertical"')


def test_a_torque_that_links_cannot_balance_is_one_line() -> None:
    only = only_problem(spoilt(EVERY["bushes"], ('"10 kN"', '"99999999 kN"'),
                               ('"400 N m"', '"400000 kN m"')))  # fmt: skip
    assert only.key == "wrap"


def test_much_wrap_is_odd() -> None:
    told = [
        each for each in notes(parse_rig(EVERY["angles"])) if each.code == "much_wrap_worked_out"
    ]
    assert [each.key for each in told] == ["wrap"]
    assert "17.6 deg" in said(told[0])
    assert "much_wrap" not in {each.code for each in notes(parse_rig(EVERY["bushes"]))}
