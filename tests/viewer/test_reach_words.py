"""A pose that the axle cannot get to is called so, in words, in the window and in its picture."""

from math import radians

import pytest

from sim.pose import check_pose, pose_of
from sim.travel.oversteps import Overstep
from sim.vehicle import Pose
from tests.viewer.session.conftest import checked
from viewer.pose.picture import pose_picture
from viewer.rigs import named_rig
from viewer.words.now import OUT_OF_REACH, now_limit, now_says, now_told, now_word
from viewer.words.reach import out_of_reach_words, overstep_words

INCH = 25.4
CROSSED = Pose(-9 * INCH, radians(8.0), 0.0)
SAID = "the right side would hang 11 1/4 in down, droop ends at 9 in"


@pytest.mark.parametrize(
    ("each", "says"),
    [
        (
            Overstep("droop", 10 * INCH, 9 * INCH),
            "the axle would hang 10 in down, droop ends at 9 in",
        ),
        (
            Overstep("left droop", 9.001 * INCH, 9 * INCH),
            "the left side would hang 9.001 in down, droop ends at 9.000 in",
        ),
        (
            Overstep("right bump", 5 * INCH, 4 * INCH),
            "the right side would go 5 in up, bump ends at 4 in",
        ),
        (
            Overstep("roll", radians(9.0), radians(8.0)),
            "it would roll 9.0 deg, 8.0 deg is the most",
        ),
        (
            Overstep("nose up", radians(5.0), radians(3.0)),
            "it would wrap 5.0 deg nose up, 3.0 deg is the most there",
        ),
        (
            Overstep("nose down", radians(5.0), radians(3.0)),
            "it would wrap 5.0 deg nose down, 3.0 deg is the most there",
        ),
    ],
)
def test_each_limit_is_said_with_what_it_would_take(each: Overstep, says: str) -> None:
    assert overstep_words(each) == says
    assert out_of_reach_words([each, each]) == f"{says}; {says}"


def test_the_window_shows_the_pose_and_calls_it_out_of_reach() -> None:
    now = pose_of(checked("long-legged-trail-wagon"), CROSSED, 0.0)
    assert now.state is not None
    assert now.joints["pinion"].bend > 0.0
    assert now_word(now) == OUT_OF_REACH
    assert now_limit(now) == SAID
    assert now_says(now) == (
        f"Out of reach at 9 in droop, crossed up 8.0 deg (left wheel up): {SAID}."
    )
    assert now_told(now) == now_says(now)
    level = pose_of(checked("long-legged-trail-wagon"), Pose(-9 * INCH), 0.0)
    assert level.beyond == ()
    assert now_word(level) == "TOUCHES"


@pytest.mark.slow
def test_the_picture_says_so_between_pose_and_bends() -> None:
    rig = named_rig("demo:long-legged-trail-wagon")
    outside, inside = (
        pose_picture(check_pose(rig, at, 0.0), rig).lines for at in (CROSSED, Pose(-2 * INCH))
    )
    assert outside[1] == f"Out of reach: {SAID}."
    assert not any("reach" in line for line in inside)
