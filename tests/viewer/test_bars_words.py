"""How sure an answer is, in words: counts of trucks, bands, what was taken."""

import re
from dataclasses import dataclass

import pytest

from sim.accuracy.source import Source, Why
from sim.bars import Band, Bars, FindingBars, likely_of
from sim.bars.doubts import Doubts
from sim.bench.shape import Free
from sim.findings import Code, Finding, Measure, Verdict
from sim.frames import FloatArray
from sim.rig import Rig
from sim.table.structure import keys_of
from sim.vehicle import Joint
from viewer.bars.asked import UNASKED, Sure
from viewer.words.bars import (
    finding_sure,
    full_lines,
    heights,
    left_band,
    span,
    sure_words,
    taken_words,
    trucks,
    works_for,
)
from viewer.words.reading_names import reading_name


def bars(chance: float, *findings: FindingBars, **more: object) -> Bars:
    told = {
        "how": "first", "seed": 0, "draws": 512, "impossible": 0, "chance_off": 0.02,
        "first": None, "keys": ("a",), "left_out": (), "unshaped": (),
    }  # fmt: skip
    return Bars(chance=chance, findings=findings, **(told | more))  # type: ignore[arg-type]


def one(code: Code, chance: float, low: float, high: float, unit: str = "deg") -> FindingBars:
    return FindingBars(code, "pinion", chance, 0.01, Band(low, high, unit))  # type: ignore[arg-type]


def finding(code: Code, verdict: Verdict = "touches") -> Finding:
    nothing = Measure(0.0, "deg")
    return Finding(code, verdict, "pinion", nothing, nothing, nothing, None)


def source(key: str, why: Why, tool: str = "", off: float = 3.175, unit: str = "mm") -> Source:
    return Source(key, 1.0, unit, off, why, tool)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Throat:
    """A joint of which one throat may be off."""

    measured: bool
    joint: Joint = "pinion"
    forecast_off: float = 0.0
    later: float = 0.0

    @property
    def free(self) -> tuple[Free, ...]:
        key = "shaft.pinion_end.pinion_yoke.throat_depth"
        return (Free(key, "pinion_yoke", "throat_depth", 30.0, 3.175, self.measured),)

    def dimensions(self, z: FloatArray) -> FloatArray:
        return z

    def clear(self, z: FloatArray) -> FloatArray:
        return z[:, 0]

    def keeps(self, z: FloatArray) -> FloatArray:
        return z[:, 0]


@pytest.mark.parametrize(
    ("share", "says"),
    [
        (0.0, "fewer than 1 truck in 100"),
        (0.004, "fewer than 1 truck in 100"),
        (0.01, "1 truck in 100"),
        (0.05, "5 trucks in 100"),
        (0.1, "1 truck in 10"),
        (0.68, "7 trucks in 10"),
        (0.94, "94 trucks in 100"),
        (0.99, "99 trucks in 100"),
        (0.996, "more than 99 trucks in 100"),
        (1.0, "more than 99 trucks in 100"),
    ],
)
def test_a_share_is_told_as_trucks_out_of_ten_or_a_hundred(share: float, says: str) -> None:
    assert trucks(share) == says


def test_what_is_counted_is_never_off_by_more_than_it_is_rounded() -> None:
    for n in range(1001):
        share = n / 1000
        count, of = map(int, re.findall(r"\d+", trucks(share)))
        assert abs(count / of - share) <= (0.0501 if of == 10 else 0.0101)


def test_a_cure_never_works_on_more_trucks_than_it_does() -> None:
    for n in range(1001):
        told = re.search(r"\d+", works_for(n / 1000))
        assert (int(told[0]) if told else 0) / 10 <= 1.0 - n / 1000 + 1e-9
    assert works_for(0.2) == "at least 8 trucks in 10"
    assert works_for(0.06) == "at least 9 trucks in 10"
    assert works_for(0.97) == "hardly any"


def test_the_sentence_says_what_is_likely_on_how_many_trucks_and_what_was_taken() -> None:
    usual = source("a", "usual", "tape"), source("b", "usual", "digital level")
    taken = Doubts((*usual, source("d", "typed")), {"pinion": Throat(measured=False)})
    most = one("joint-bend", 0.7, -3.0, 1.0)
    assert sure_words(bars(0.7, most), taken) == (
        "How sure: may touch; of trucks that measure like this one 7 in 10 touch (usual digital "
        "level and tape, generic yokes)."
    )
    assert sure_words(bars(0.02, one("joint-bend", 0.02, 0.1, 3.0)), Doubts()) == (
        "How sure: clear; of trucks that measure like this one 2 in 100 touch."
    )
    slip = one("slip-opens", 1.0, -30.0, -20.0, "mm")
    assert sure_words(bars(1.0, one("joint-bend", 0.0, 1.0, 2.0), slip), Doubts()).startswith(
        "How sure: runs out; of trucks that measure like this one more than 99 in 100 run out"
    )
    own = source("d", "typed"), source("e", "tool", "tape")
    assert taken_words(Doubts(own, {"pinion": Throat(measured=True)})) == ""


@pytest.mark.parametrize(
    ("low", "high", "unit", "says"),
    [
        (1.2, 3.44, "deg", "1.2 to 3.4 deg left"),
        (-3.4, -1.2, "deg", "1.2 to 3.4 deg too far"),
        (-1.2, 3.4, "deg", "1.2 deg too far to 3.4 deg left"),
        (2.01, 2.04, "deg", "2.0 deg left"),
        (-25.5, -3.2, "mm", "3/16 to 1 1/16 in too far"),
        (3.2, 25.4, "mm", "1/8 to 1 in left"),
    ],
)
def test_a_band_reads_from_the_least_to_the_most(
    low: float, high: float, unit: str, says: str
) -> None:
    assert left_band(Band(low, high, unit)) == says  # type: ignore[arg-type]


def test_heights_are_told_with_their_way_once() -> None:
    assert heights(Band(-101.6, -50.8, "mm")) == "2 to 4 in droop"
    assert heights(Band(50.8, 101.6, "mm")) == "2 to 4 in bump"
    assert heights(Band(-50.8, 25.4, "mm")) == "1 in bump to 2 in droop"
    assert heights(Band(-50.8, 0.0, "mm")) == "ride height to 2 in droop"
    assert heights(Band(-50.9, -50.8, "mm")) == "2 in droop"
    assert span(Band(1.0, 2.0, "deg")) == "1.0 to 2.0 deg"


def test_a_finding_says_its_chance_only_where_there_is_doubt() -> None:
    doubtful = one("joint-bend", 0.3, -1.2, 3.4)
    assert finding_sure(doubtful, finding("joint-bend")) == (
        "How sure: may touch, 3 trucks in 10, 1.2 deg too far to 3.4 deg left."
    )
    sure = one("joint-bend", 0.0, 1.2, 3.4)
    assert finding_sure(sure, finding("joint-bend", "clear")) == (
        "How sure: clear, 1.2 to 3.4 deg left."
    )
    short = one("slip-opens", 1.0, -30.0, -26.0, "mm")
    assert finding_sure(short, finding("slip-opens")) == (
        "How sure: runs out, 1 1/16 to 1 3/16 in short."
    )
    gap = FindingBars(
        "joint-gap", "pinion", 0.02, 0.01, Band(-1.5, 0.3, "mm"), Band(0.1, 1.9, "mm")
    )
    assert "gap " in finding_sure(gap, finding("joint-gap", "close"))
    assert "too far" not in finding_sure(gap, finding("joint-gap", "close"))


def test_everything_that_was_taken_is_listed_once_and_what_was_left_out() -> None:
    taken = (source("ride_height.length", "usual", "tape"), source("travel.droop", "usual", "tape"),
             source("axle.points_up", "typed", off=0.0087266, unit="rad"))  # fmt: skip
    doubts = Doubts(taken, {"pinion": Throat(measured=False), "output": Throat(measured=True)})
    told = bars(0.5, left_out=("axle.position",), unshaped=("middle",))
    text = " ".join(" ".join(full_lines(told, doubts)).split())
    assert "1/8 in (usual tape): the length, joint center to joint center; the droop" in text
    assert "0.50 deg (as typed): the pinion's slope" in text
    assert "pinion joint, 1 of their dimensions as real ones differ" in text
    assert "from memory: a throat by 1/8 in" in text
    assert "1/8 in (measured): the throat of the pinion yoke" in text
    assert "the position (axle)" in text
    assert "Yokes of the middle joint" in text
    assert "--sure" in text
    drawn = "\n".join(full_lines(bars(0.5, how="full", draws=2048), doubts))
    assert "2,048 trucks drawn" in drawn
    assert "--sure" not in drawn


def test_a_rig_in_which_nothing_may_be_off_says_nothing() -> None:
    assert UNASKED.says == ""
    assert UNASKED.of(finding("joint-bend")) == ""
    assert not list(UNASKED.rests())
    assert "nobody can tell" in Sure(why="no yokes").says


def test_every_key_of_a_rig_has_a_name_without_underscores() -> None:
    names = {key: reading_name(key) for key in keys_of(Rig)}
    assert [key for key, name in names.items() if "_" in name or "  " in name] == []
    assert all(name.startswith(("the ", "how ", "axle ", "seal ", "stops", "bearing ", "where "))
               for name in names.values())  # fmt: skip
    assert reading_name("shaft.pinion_end.pinion_yoke.throat_depth") == (
        "the throat of the pinion yoke"
    )


def test_what_is_likely_is_told_by_the_same_limits_as_the_bars() -> None:
    assert [likely_of(chance) for chance in (0.05, 0.051, 0.949, 0.95)] == [
        "clear", "may-touch", "may-touch", "touches"]  # fmt: skip
