"""What to read again, in words."""

from dataclasses import replace
from math import radians

import pytest

from sim.bars import Again, Outcome
from tests.viewer.test_bars_words import bars
from viewer.bars.asked import Sure
from viewer.bars.json import again_data
from viewer.words.again import again_lines, again_words, narrowing, read_first

SLOPE = Again(
    key="axle.points_up",
    code="joint-bend",
    subject="pinion",
    share=0.7,
    total=0.75,
    value=radians(3.0),
    unit="rad",
    off=radians(0.5),
    why="usual",
    tool="angle finder",
    better="digital level",
    better_off=radians(0.2),
    narrows=0.5,
    low=Outcome(radians(2.5), 0.99),
    high=Outcome(radians(3.5), 0.01),
)
THROAT = replace(
    SLOPE,
    key="shaft.pinion_end.shaft_yoke.throat_depth",
    unit="mm",
    why="generic part",
    better="caliper",
    narrows=0.9,
    low=Outcome(25.4, 0.4),
    high=Outcome(31.75, 0.0),
)
BENCH = replace(THROAT, key="shaft.pinion_end.bench", unit="rad", better="", narrows=0.2)


def test_what_was_read_is_read_again() -> None:
    assert again_words(SLOPE) == (
        "Read the pinion's slope again with a digital level: halves the doubt. At 2.5 deg touches; "
        "at 3.5 deg clear."
    )


def test_what_nobody_read_is_measured() -> None:
    assert again_words(THROAT) == (
        "Measure the throat of the shaft yoke at the pinion with a caliper: takes a tenth off the "
        "doubt. At 1 in may touch; at 1 1/4 in clear."
    )
    assert again_words(replace(SLOPE, why="assumed")).startswith("Measure the pinion's slope with")


def test_a_joint_is_bent_on_the_bench() -> None:
    assert again_words(BENCH).startswith(
        "Bend the pinion joint on the bench until it touches: takes three quarters off the doubt."
    )


def test_a_slip_runs_out() -> None:
    slip = replace(SLOPE, code="slip-opens", subject="slip", key="shaft.slip.opens", unit="mm")
    assert again_words(slip).endswith("in runs out; at 0 in clear.")


@pytest.mark.parametrize(
    ("narrows", "said"),
    [
        (0.0, "takes nearly all of the doubt"),
        (0.25, "takes three quarters off the doubt"),
        (1.0 / 3.0, "takes two thirds off the doubt"),
        (0.5, "halves the doubt"),
        (2.0 / 3.0, "takes a third off the doubt"),
        (0.75, "takes a quarter off the doubt"),
        (0.9, "takes a tenth off the doubt"),
        (0.97, "takes little off the doubt"),
    ],
)
def test_how_much_goes(narrows: float, said: str) -> None:
    assert narrowing(narrows) == said


def test_the_line_of_a_check_names_the_first_where_there_is_a_doubt() -> None:
    doubt = bars(0.5, again=(SLOPE, THROAT))
    assert read_first(doubt) == (
        "What helps most: read the pinion's slope again with a digital level (halves the doubt)."
    )
    assert Sure(doubt).says.endswith(read_first(doubt))
    assert read_first(bars(0.0, again=(SLOPE,))) == read_first(bars(0.5)) == ""


def test_all_are_listed_where_one_would_change_the_verdict() -> None:
    assert len([*again_lines(bars(0.5, again=(SLOPE, THROAT)))]) == 2
    assert len([*again_lines(bars(0.0, again=(SLOPE,)))]) == 1
    idle = replace(SLOPE, low=Outcome(0.0, 0.0), high=Outcome(0.0, 0.0))
    assert [*again_lines(bars(0.0, again=(idle,)))] == []


def test_json_has_key_share_and_sentence() -> None:
    told = again_data(Sure(bars(0.5, again=(SLOPE,))))
    assert told == [{"key": "axle.points_up", "share": 0.7, "says": again_words(SLOPE)}]
    assert again_data(Sure()) == []
