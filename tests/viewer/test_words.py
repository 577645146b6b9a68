from math import radians

import pytest

from sim.findings import Finding, Measure
from sim.vehicle import RIDE, Pose
from viewer.words import pose_words, says

DOWN = Pose(-160.0, 0.0, radians(-4.0))


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (RIDE, "ride height"),
        (DOWN, "6 5/16 in droop, 4.0 deg nose down"),
        (Pose(101.6, radians(8), 0.0), "4 in bump, crossed up 8.0 deg (left wheel up)"),
        (Pose(0.1, 1e-5, -1e-5), "ride height"),
    ],
)
def test_poses_are_said_as_in_a_shop(at: Pose, words: str) -> None:
    assert pose_words(at) == words


def test_a_touching_joint_says_where_what_and_how_much() -> None:
    finding = Finding(
        "joint-bend",
        "touches",
        "pinion",
        Measure(-2.1, "deg"),
        Measure(25.5, "deg"),
        Measure(27.6, "deg"),
        Pose(-203.2, 0.0, radians(-4.0)),
        {
            "surfaces": ("throat", "ear tip"),
            "bodies": ("shaft's weld yoke", "pinion strap yoke"),
            "first": DOWN,
            "gap_mm": 0.0,
            "reserve_deg": 2.0,
        },
    )
    assert says(finding) == (
        "The pinion joint touches at 6 5/16 in droop, 4.0 deg nose down: ear tip of the pinion "
        "strap yoke against the throat of the shaft's weld yoke. It is clear to 25.5 deg and "
        "bends to 27.6 deg at 8 in droop, 4.0 deg nose down; it needs 2.1 deg more."
    )


def test_a_slip_that_runs_out_rounds_up_what_it_needs() -> None:
    finding = Finding(
        "slip-opens",
        "touches",
        "slip",
        Measure(-2.0, "mm"),
        Measure(50.8, "mm"),
        Measure(52.8, "mm"),
        Pose(-203.2),
        {"reserve_mm": 19.05, "place": "shaft"},
    )
    assert "It needs 1/8 in (2.0 mm) more." in says(finding)
