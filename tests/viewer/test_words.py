import re
from math import radians
from typing import Any

import pytest

from sim.check import check
from sim.findings import ORDER, Code, Finding, Measure, Verdict
from sim.rig import parse_rig
from sim.search.what_it_takes import WhatItTakes
from sim.units import parse_length
from sim.vehicle import RIDE, Pose
from tests.sim import rigs
from tests.viewer.whole_text import check_text
from viewer.rigs import named_rig
from viewer.words.finding_facts import LONGEST
from viewer.words.findings import finding_lines, says
from viewer.words.meeting import meeting_words, surfaces_words
from viewer.words.poses import pose_words
from viewer.words.verdicts import check_word, first_contact_words, slip_left_words, verdict_word

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
        "The pinion joint binds at 6 5/16 in droop, 4.0 degrees nose down. What meets: ear tip of "
        "the pinion strap yoke against the throat of the shaft's weld yoke. It is good for 25.5 "
        "degrees. The travel bends it to 27.6 degrees, 2.1 too far, at 8 in droop, 4.0 degrees "
        "nose down."
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
    assert "It is 1/8 in (2.0 mm) short." in says(finding)


def test_a_slip_that_is_short_is_rounded_alike_in_sentence_and_table() -> None:
    """31.1 mm is 1.224 in: 1 1/4 in as it has to be lengthened, not 1 3/16 or 1.22 in."""
    rig = named_rig("demo:goat-path-buggy")
    result = check(rig)
    sentence = next(says(each) for each in result.findings if each.code == "slip-opens")
    lines = check_text(result).splitlines()
    table = next(line for line in lines if line.startswith("opens "))
    short = re.search(r"It is (.*?) short\.", sentence)
    assert short is not None
    assert table.endswith(f"; {short[1]} short")
    mm = float(short[1].split("(")[1].split()[0])
    inches = parse_length(short[1].split(" (")[0]) / 25.4
    assert 0.0 <= inches - mm / 25.4 < 1.0 / 16.0 + 0.05 / 25.4


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (19.05, "3/4 in (19.1 mm) left"),
        (0.0, "nothing left"),
        (-1e-4, "nothing left"),
        (-0.1, "1/16 in (0.1 mm) short"),
        (-25.4, "1 in (25.4 mm) short"),
        (-25.5, "1 1/16 in (25.5 mm) short"),
    ],
)
def test_what_is_short_of_a_slip_is_rounded_up(mm: float, words: str) -> None:
    assert slip_left_words(mm) == words


NEAR = {
    "part": "tube",
    "called": "shaft's tube",
    "yields": False,
    "unseen": ("axle housing", "output yoke"),
}
"""Details of a finding about a thing near the shaft."""


def test_what_is_close_reads_as_less_than_is_wanted() -> None:
    """19.02 of 19.05 mm once read as "only 3/4 in left; 3/4 in is wanted"."""

    def close(code: Code, margin: Measure, worst: Measure, limit: Measure, **detail: Any) -> str:
        return says(Finding(code, "close", "pinion", margin, limit, worst, DOWN, detail))

    mm, deg = (lambda x: Measure(x, "mm")), (lambda x: Measure(x, "deg"))
    slip = close("slip-opens", mm(19.02), mm(6.4), mm(25.4), reserve_mm=19.05)
    assert "only just under 3/4 in (19.0 mm) left before" in slip
    assert "Wanted: 3/4 in (19.1 mm)." in slip
    meeting = {"surfaces": ("throat", "ear tip"), "bodies": ("weld yoke", "strap yoke")}
    gap = close("joint-gap", mm(-0.002), mm(1.58), mm(1.5875), **meeting)
    assert "is down to just under 1/16 in of gap" in gap
    assert "Wanted: 1/16 in (1.6 mm)." in gap
    more = {"first": None, "gap_mm": 3.0, "reserve_deg": 2.0}
    bend = close("joint-bend", deg(1.99), deg(20.0), deg(21.99), **meeting, **more)
    assert "comes within 1.99 degrees of binding" in bend
    assert "Wanted: 2.0 degrees." in bend
    near = close("surroundings", mm(-0.03), mm(12.67), mm(12.7), **NEAR)
    assert "just under 1/2 in left" in near


def test_what_touches_as_the_vehicle_stands_is_told_once() -> None:
    rig = parse_rig(rigs.PHONE_CALL.replace('shaft_points_down = "14 deg"', STEEP))
    words = first_contact_words(check(rig))
    assert words == "First contact going down from ride height: output joint at ride height."


STEEP = 'shaft_points_up = "31 deg"'
"""34 deg off an output that points 3 deg down; a generic joint touches at 26 deg."""


@pytest.mark.parametrize(
    ("called", "touches", "close", "clear"),
    [
        ("axle tubes", "hit", "come", "clear"),
        ("shaft's ears at the pinion end", "hit", "come", "clear"),
        ("shaft's tube", "hits", "comes", "clears"),
        ("yoke at the pinion end", "hits", "comes", "clears"),
    ],
)
def test_several_parts_are_spoken_of_as_several(
    called: str, touches: str, close: str, clear: str
) -> None:
    def sentence(worst: float) -> str:
        margin, limit = Measure(worst - 12.7, "mm"), Measure(12.7, "mm")
        verdict: Verdict = "clear" if worst > 12.7 else "close" if worst > 0.0 else "touches"
        near = NEAR | {"called": called}
        args = (margin, limit, Measure(worst, "mm"), RIDE, near)
        return says(Finding("surroundings", verdict, "tank", *args))

    assert sentence(0.0).startswith(f"The {called} {touches} the tank")
    assert sentence(5.0).startswith(f"The {called} {close} close to the tank")
    assert sentence(50.0).startswith(f"The {called} {clear} the tank")


@pytest.mark.slow
def test_a_slip_that_runs_out_is_not_said_to_touch() -> None:
    assert check_word(check(named_rig("demo:goat-path-buggy"))) == "RUNS OUT"
    assert check_word(check(named_rig("demo:long-legged-trail-wagon"))) == "TOUCHES"
    assert [verdict_word(each, metal=False) for each in ORDER] == ["CLEAR", "CLOSE", "RUNS OUT"]
    assert [verdict_word(each) for each in ORDER] == ["CLEAR", "CLOSE", "TOUCHES"]


def test_what_meets_is_named_in_one_order_however_it_came() -> None:
    """The mirror image of a contact has its yokes the other way round, and reads the same."""
    told = meeting_words(("throat", "bolt"), ("shaft's weld yoke", "pinion strap yoke"))
    assert told == "bolt of the pinion strap yoke against the throat of the shaft's weld yoke"
    assert meeting_words(("bolt", "throat"), ("pinion strap yoke", "shaft's weld yoke")) == told
    assert surfaces_words(("throat", "bolt")) == surfaces_words(("bolt", "throat"))
    assert surfaces_words(("ear tip", "bolt")) == "ear tip / bolt"


def test_what_is_hit_near_the_shaft_says_what_it_takes() -> None:
    near = {"part": "tube", "called": "shaft's tube", "yields": False, "certified_mm": 0.0}
    finding = Finding(
        "surroundings",
        "touches",
        "crossmember",
        Measure(-12.7, "mm"),
        Measure(12.7, "mm"),
        Measure(0.0, "mm"),
        DOWN,
        near | {"unseen": ("axle housing",), "takes": WhatItTakes("both hanging", Pose(-203.2))},
    )
    assert says(finding).startswith(
        "The shaft's tube hits the crossmember at 6 5/16 in droop, 4.0 degrees nose down. Both "
        "wheels hanging does it: level, with no wrap, at 8 in droop."
    )


@pytest.mark.parametrize(
    ("start", "says"),
    [
        (Pose(-147.6), "runs out from 5 13/16 in droop"),
        (Pose(101.6, 0.0, 0.1), "runs out from 4 in bump, nose up"),
        (Pose(-132.9, 0.1, -0.07), "runs out from 5 1/4 in droop, crossed up, nose down"),
        (Pose(0.0, 0.0, 0.1), "runs out from ride height, nose up"),
        (Pose(), "runs out already at ride height"),
    ],
)
@pytest.mark.parametrize(("code", "does"), [("slip-opens", "runs out"), ("slip-closes", "bottoms")])
def test_a_slip_that_is_short_says_where_it_is_worst_and_from_where_on(
    code, does, start, says
) -> None:
    """The first stays one line in the window's list."""
    finding = Finding(
        code,
        "touches",
        "slip",
        Measure(-31.0, "mm"),
        Measure(22.0, "mm"),
        Measure(53.0, "mm"),
        Pose(-203.2, 0.0, -0.07),
        {"reserve_mm": 19.05, "first": start, "takes": None},
    )
    first, second = finding_lines(finding)
    assert first == "Slip is 1 1/4 in short at 8 in droop"
    assert second == says.replace("runs out", does)
    assert len(first) <= LONGEST
