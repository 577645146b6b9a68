"""What a joint got against what it holds, in words: rough numbers, each with its doubt."""

from functools import cache
from math import inf, radians

import pytest

from sim.assessment import Assessment, Assessor
from sim.overload import HowFailed, overload
from sim.rig.demos import load_demo
from viewer.words.overloaded import between, rough, so_many
from viewer.words.pulled import overload_lines


@cache
def assessed(name: str) -> Assessment:
    return Assessor().assess(load_demo(name))


def lines(name: str, how: HowFailed | None = None) -> list[str]:
    return list(overload_lines(overload(assessed(name), "pinion", how)))


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (0.3, "less than one"),
        (1.4, "about 1"),
        (449.0, "about 400"),
        (9_600.0, "about 10,000"),
        (18_073.0, "about 20,000"),
        (2e8, "more than it lives to see"),
        (inf, "more than it lives to see"),
    ],
)
def test_one_digit_is_told(number: float, says: str) -> None:
    assert rough(number) == says


@pytest.mark.parametrize(
    ("number", "says"),
    [
        (0.3, "less than one such pull"),
        (449.0, "about 400 such pulls"),
        (inf, "more such pulls than it lives to see"),
    ],
)
def test_a_count_goes_on_a_sentence(number: float, says: str) -> None:
    assert so_many(number, "such pulls", "such pull") == says


def test_a_band_in_words() -> None:
    assert between(120.0, 9_100.0) == "anywhere from 100 to 9,000"
    assert between(0.0, 9_100.0) == "anywhere from none to 9,000"
    assert between(120.0, inf) == "100 or more"
    assert between(3e8, inf) == "at the least too"


@pytest.mark.slow
def test_a_wedged_tire_is_told_of_and_every_estimate_called_one() -> None:
    how = HowFailed(hard_pull=True, miles=1200.0, use="rocks", play=radians(1.5))
    said = lines("long-legged-trail-wagon", how)
    assert said[0].startswith("Hardest pull: 2,154 lb-ft")
    assert "It takes a wedged tire." in said[1]
    assert any(line.startswith("At ride height, 14.5 deg, it holds ") for line in said)
    (pulls,) = [line for line in said if "root of a trunnion cracks" in line]
    assert "an estimate" in pulls
    (miles,) = [line for line in said if line.startswith("On rocks ")]
    assert miles.endswith("(a guess at how often it pulls). It went 1,200.")
    (knock,) = [line for line in said if "play of 1.5 deg closes at " in line]
    assert "an estimate" in knock
    assert any("what limits it is what the hanging axle weighs" in line for line in said)
    assert said[-1].startswith("Rests on what the rig does not tell")
    assert len(said[-1]) < 500
    # It is too weak for one pull and yet lasts several: how that can be is said.
    assert any("begin to bend for good" in line.replace("begins", "begin") for line in said)


@pytest.mark.slow
def test_without_a_drive_it_says_what_is_missing_and_tells_no_pulls() -> None:
    said = lines("ridge-crawler")
    assert said[0] == "The rig does not say what pulls on it, so only what it holds is told."
    (missing,) = [line for line in said if line.startswith("Not told by the rig: ")]
    assert "engine torque, low gear" in missing
    assert not any("drive." in line or "_" in line for line in said)
    assert not any("times the hardest pull" in line or "cracks" in line for line in said)
    assert "how often it pulls" not in said[-1]
    # Its travel does not bend this joint to where it touches.
    assert not any("past touch" in line for line in said)
