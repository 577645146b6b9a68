"""Links in a rig file: every kind of member, what a rig makes of them, and what is refused."""

import numpy as np
import pytest

from sim.check import check
from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig, RigError, parse_rig
from sim.rig.demos import demo_text
from sim.table.loads import STIFFNESS
from viewer.words.problems import problem_words

NAME = "ridge-crawler"
HEAD, _, REST = demo_text(NAME).partition("[suspension]")
TAIL = REST[REST.index("[shaft]") :]

LOWER = """
[[suspension.links]]
name = "lower"
chassis = ["33 in", "18 in", "1 in"]
axle = ["1 in", "18 in", "-3 in"]
mirrored = true
"""
BAR = """
[suspension.track_bar]
name = "bar"
chassis = ["-3 in", "16 in", "5 in"]
axle = ["-3 in", "-16 in", "5 in"]
"""
UPPER = """
[[suspension.links]]
name = "upper"
chassis = ["28 in", "4 in", "9 in"]
axle = ["1 in", "4 in", "7 in"]
"""
LAYOUTS = {
    "three links and a bar": LOWER + UPPER + BAR,
    "four parallel links and a bar": LOWER + UPPER + "mirrored = true\n" + BAR,
    "wishbone": LOWER
    + """
[[suspension.wishbones]]
name = "upper"
apex = ["1 in", "0 in", "7 in"]
bushes = [["27 in", "15 in", "8 in"], ["27 in", "-15 in", "8 in"]]
""",
    "radius arms and a bar": """
[[suspension.arms]]
name = "arm"
chassis = ["36 in", "17 in", "1 in"]
axle = [["4 in", "17 in", "1 in"], ["-4 in", "17 in", "1 in"]]
mirrored = true
"""
    + BAR,
    "torque arm": LOWER
    + BAR
    + """
[suspension.torque_arm]
name = "torque arm"
end = ["40 in", "2 in", "2 in"]
held_by = "slide"
""",
}


def rig_on(members: str) -> Rig:
    return parse_rig(f'{HEAD}[suspension]\nkind = "links"\n{members}\n{TAIL}')


@pytest.mark.parametrize("members", LAYOUTS.values(), ids=LAYOUTS.keys())
def test_every_layout_holds_the_axle_and_starts_at_ride(members: str) -> None:
    rig = rig_on(members.replace("10 deg", "4 deg"))
    vehicle = vehicle_of(rig)
    ride = vehicle.suspension.poses(0.0, 0.0, 0.0)
    np.testing.assert_allclose(ride.R_CA, np.eye(3), atol=1e-9)
    np.testing.assert_allclose(ride.p_C_A, 0.0, atol=1e-6)
    state = line(vehicle, np.linspace(-100.0, 80.0, 7), 0.0, 0.0)
    assert np.isfinite(state.pinion_bend).all()


@pytest.mark.slow
@pytest.mark.parametrize(
    ("members", "key", "says"),
    [
        (LOWER + UPPER, "suspension", "free"),
        (LOWER + UPPER + BAR + UPPER.replace('"upper"', '"again"'), "links[3]", "given twice"),
        (
            LOWER.replace('chassis = ["33 in"', 'chassis = ["1 in"').replace(
                'axle = ["1 in"', 'axle = ["33 in"'
            )
            + UPPER
            + BAR,
            "links[1].axle",
            "swapped",
        ),
        (LOWER + UPPER + BAR.replace("bar", "lower", 1), "track_bar", "came"),
        (LOWER.replace("chassis", "chasis", 1) + UPPER + BAR, "chasis", "chassis"),
        (LOWER + UPPER + "stiffness = '5'\n" + BAR, "stiffness", "unit"),
        (
            LOWER.replace('chassis = ["33 in"', 'chassis = ["5 in"') + UPPER + BAR,
            "travel",
            "reach",
        ),
    ],
)
def test_impossible_links_are_told(members: str, key: str, says: str) -> None:
    with pytest.raises(RigError) as told:
        rig_on(members)
    lines = [problem_words(problem) for problem in told.value.problems]
    assert any(key in line and says in line for line in lines), lines


def only_line(members: str) -> str:
    with pytest.raises(RigError) as told:
        rig_on(members)
    (problem,) = told.value.problems
    return problem_words(problem)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        (
            'axle = ["1 in", "18 in", "-3 in"]',
            'axle = ["1 in", "18 in"]',
            'suspension.links[1].axle: came ["1 in", "18 in"] (2 in place of three), expected '
            'three lengths: forward, left, up, such as ["47 in", "0 in", "9 in"]',
        ),
        (
            'chassis = ["33 in", "18 in", "1 in"]',
            'chassis = ["33 in", "18 in", "1 in", "2 in"]',
            'suspension.links[1].chassis: came ["33 in", "18 in", "1 in", "2 in"] (4 in place of '
            "three)",
        ),
        (
            'axle = ["1 in", "18 in", "-3 in"]',
            'axle = "1 in, 18 in, -3 in"',
            'suspension.links[1].axle: came "1 in, 18 in, -3 in" (not an array in [ ])',
        ),
        (
            'chassis = ["33 in", "18 in", "1 in"]\naxle = ["1 in", "18 in", "-3 in"]',
            'axle = ["33 in", "18 in", "1 in"]\nchassis = ["1 in", "18 in", "-3 in"]',
            'suspension.links[1].axle: came ["33 in", "18 in", "1 in"] (33 in (838.6 '
            "mm) from the axle, while its chassis end is only 3 3/16 in (80.3 mm) from "
            "it), expected the end of lower that is on the axle; chassis and axle look swapped, "
            "put each in place of the other",
        ),
        ("mirrored = true", "mirrored = 1", "suspension.links[1].mirrored: came 1, expected"),
        ('name = "lower"\n', "", "suspension.links[1].name: nothing typed"),
    ],
)
def test_ends_and_coordinates_that_cannot_be_are_told_plainly(
    old: str, new: str, says: str
) -> None:
    assert LOWER.count(old) == 1
    assert only_line(LOWER.replace(old, new) + UPPER + BAR).startswith(says)


@pytest.mark.parametrize(
    ("axle", "says"),
    [
        ('["4 in", "17 in", "1 in"]', '["4 in", "17 in", "1 in"] (one point in place of two)'),
        ('[["4 in", "17 in", "1 in"]]', '[["4 in", "17 in", "1 in"]] (1 in place of two)'),
    ],
)
def test_an_arm_needs_two_points_on_the_axle(axle: str, says: str) -> None:
    arms = LAYOUTS["radius arms and a bar"]
    points = '[["4 in", "17 in", "1 in"], ["-4 in", "17 in", "1 in"]]'
    assert arms.count(points) == 1
    line = only_line(arms.replace(points, axle))
    assert line.startswith(f"suspension.arms[1].axle: came {says}, expected two points")


@pytest.mark.parametrize(
    ("text", "value"),
    [("5 kN/mm", 5000.0), ("1000 N/mm", 1000.0), ("28550 lb/in", 5000.0), ("5", None), ("", None)],
)
def test_stiffness_as_typed(text: str, value: float | None) -> None:
    assert STIFFNESS.of(text) == (None if value is None else pytest.approx(value, rel=1e-3))


def test_links_are_written_back_as_typed() -> None:
    typed = rig_on(LOWER + UPPER + BAR).typed()["suspension"]
    assert typed["links"][0]["mirrored"] is True
    assert typed["links"][1]["chassis"] == ["28 in", "4 in", "9 in"]
    assert typed["track_bar"]["name"] == "bar"


@pytest.mark.slow
def test_radius_arms_bind_in_roll_and_say_how_much_the_bushes_give() -> None:
    rig = rig_on(LAYOUTS["radius arms and a bar"])
    result = check(rig)
    assert result.give is not None
    assert 0.0 < result.give.value < 25.0
    assert abs(result.give.at.roll) == pytest.approx(np.radians(10.0), abs=1e-3)
    assert check(rig_on(LOWER + UPPER + BAR)).give is None
