"""Remedies on a two-piece shaft do what they say: held to vectors of the three joints by hand."""

from dataclasses import dataclass
from functools import cache

import numpy as np
import pytest

from sim.assessment import Assessment, Assessor
from sim.cures.cures import REMEDIES
from sim.cures.remedies.heights import BearingHeight, OutputAndBearing, OutputDrop
from sim.cures.remedies.longer_shaft import LongerShaft
from sim.cures.remedies.yokes import DeepThroat
from sim.cures.remedy import Case, Dose, Remedy
from sim.cures.search import each_smallest
from sim.cures.seats import seat_of
from sim.cures.trial import Bench, Goal
from sim.derive import ride_height_of
from sim.rig import Rig, load_demo, parse_rig
from sim.rig.change import changed
from sim.rig.document import rig_text
from sim.table.fields import millimetres
from viewer.words.cures import cost_words
from viewer.words.remarks import said

INCH = 25.4

STRAIGHT = {
    "suspension": {"kind": "vertical"},
    "travel": {"bump": "4 in", "droop": "12 in", "roll": "0 deg", "nose_up": "0 deg"},
}
"""Straight up and down, so that every pose is a height and a hand can follow."""


@cache
def carrier() -> Rig:
    """The two-piece demo rig hung higher, moving straight up and down."""
    rig = changed(
        load_demo("timber-crew-carrier"),
        {
            **STRAIGHT,
            "output.joint": ["92 in", "1 in", "15 in"],
            "carrier.bearing": ["57 in", "1/2 in", "13 1/2 in"],
            "shaft.slip": {"at": "shaft", "closes": "2 in", "opens": "6 in"},
        },
    )
    return changed(rig, {"travel.nose_down": "0 deg"})


@dataclass(frozen=True)
class ByHand:
    """Largest bends (rad) over the heights, and the slip (mm) from ride height."""

    output: float
    middle: float
    pinion: float
    shortest: float
    longest: float


def angle(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Between directions (..., 3)."""
    crossed = np.linalg.norm(np.cross(a, b), axis=-1)
    return np.asarray(np.arctan2(crossed, (a * b).sum(-1)))


def by_hand(rig: Rig, output: np.ndarray, bearing: np.ndarray) -> ByHand:
    """Three joints as points: the middle one lies beyond the bearing, on the line through it."""
    assert rig.carrier is not None
    assert rig.axle.pinion_joint is not None
    assert rig.output.points_down is not None
    assert rig.axle.points_up is not None
    down, up = rig.output.points_down.rad, rig.axle.points_up.rad
    front = (bearing - output) / np.linalg.norm(bearing - output)
    middle = bearing + rig.carrier.middle_joint_beyond.mm * front
    heights = np.linspace(-rig.travel.droop.mm, rig.travel.bump.mm, 2001)
    pinion = np.array(millimetres(rig.axle.pinion_joint)) + heights[:, None] * np.eye(3)[2]
    rear = pinion - middle
    output_shaft = np.array([-np.cos(down), 0.0, -np.sin(down)])
    pinion_shaft = np.array([np.cos(up), 0.0, np.sin(up)])
    length = np.linalg.norm(rear, axis=-1)
    ride = np.linalg.norm(np.array(millimetres(rig.axle.pinion_joint)) - middle)
    return ByHand(
        float(angle(output_shaft, front)),
        float(angle(front, rear).max()),
        float(angle(pinion_shaft, -rear).max()),
        float((length - ride).min()),
        float((length - ride).max()),
    )


def placed(rig: Rig) -> tuple[np.ndarray, np.ndarray]:
    assert rig.output.joint is not None
    assert rig.carrier is not None
    return np.array(millimetres(rig.output.joint)), np.array(millimetres(rig.carrier.bearing))


@cache
def assessor() -> Assessor:
    return Assessor()


@cache
def before() -> Assessment:
    return assessor().assess(carrier())


MOVES: tuple[tuple[Remedy, tuple[float, float, float], tuple[float, float, float]], ...] = (
    (OutputDrop(), (0.0, 0.0, 1.0), (0.0, 0.0, 0.0)),
    (BearingHeight(), (0.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    (OutputAndBearing(), (0.0, 0.0, 1.0), (0.0, 0.0, 1.0)),
)
"""A remedy, and how its inch up moves the output and the bearing."""


@pytest.mark.slow
@pytest.mark.parametrize("move", MOVES, ids=lambda move: move[0].code)
@pytest.mark.parametrize("inches", [-3.0, -0.75, 2.0])
def test_what_is_said_to_move_moves_and_nothing_else(
    move: tuple[Remedy, tuple[float, float, float], tuple[float, float, float]], inches: float
) -> None:
    """Once a dropped output took the bearing along without a word, which is 7 deg less bend.

    Truth: points, lines and arc tangents in numpy, nothing of the project's kinematics.
    """
    remedy, output_by, bearing_by = move
    rig = carrier()
    dose = Dose(abs(inches) * INCH, "down" if inches < 0.0 else "up")
    cured = remedy.applied(rig, dose)
    after = assessor().assess(cured)
    output, bearing = placed(rig)
    was = by_hand(rig, output, bearing)
    now = by_hand(
        rig,
        output + inches * INCH * np.array(output_by),
        bearing + inches * INCH * np.array(bearing_by),
    )
    for joint in ("output", "middle", "pinion"):
        found = before().margins[joint] - after.margins[joint]  # type: ignore[index]
        assert found == pytest.approx(getattr(now, joint) - getattr(was, joint), abs=1e-5)
    moved = ride_height_of(cured).length - ride_height_of(rig).length  # the same rear section
    assert after.opens_left == pytest.approx(6.0 * INCH - moved - now.longest, abs=0.01)
    assert after.closes_left == pytest.approx(2.0 * INCH + moved + now.shortest, abs=0.01)
    words = said(remedy.says(Case(rig, dose, cured, before(), after)))
    assert ("where it is" in words) == (remedy.code != "output-and-bearing")
    assert "bearing" in words
    assert "output" in words


def test_a_drop_of_the_output_alone_and_of_both_are_degrees_apart() -> None:
    """What was worded and what was done: several degrees at the middle joint."""
    rig = carrier()
    output, bearing = placed(rig)
    down = np.array([0.0, 0.0, -3.0 * INCH])
    alone, both = by_hand(rig, output + down, bearing), by_hand(rig, output + down, bearing + down)
    assert np.degrees(alone.middle - both.middle) > 5.0


def test_a_front_section_that_gets_longer_is_told() -> None:
    """The bearing's bracket has to slide, or the section is cut anew: by Pythagoras."""
    rig = carrier()
    dose = Dose(3.0 * INCH, "down")
    cured = BearingHeight().applied(rig, dose)
    output, bearing = placed(rig)
    was = np.linalg.norm(bearing - output)
    now = np.linalg.norm(bearing - output + np.array([0.0, 0.0, -3.0 * INCH]))
    assert now - was > INCH / 16.0
    words = cost_words(BearingHeight().costs(Case(rig, dose, cured, before(), before())))
    assert f"{now - was:.1f} mm) longer" in words
    both = OutputAndBearing().applied(rig, dose)
    assert "longer" not in cost_words(
        OutputAndBearing().costs(Case(rig, dose, both, before(), before()))
    )


def test_a_longer_shaft_says_that_the_axle_moves_away_from_both() -> None:
    rig = carrier()
    cured = LongerShaft().applied(rig, Dose(INCH))
    for was, now in zip(placed(rig), placed(cured), strict=True):
        np.testing.assert_allclose(now - was, [INCH, 0.0, 0.0], rtol=0.0, atol=0.01)
    words = said(LongerShaft().says(Case(rig, Dose(INCH), cured, before(), before())))
    assert "rear section" in words
    assert "the output and carrier bearing left where they are" in words


def test_yokes_of_any_joint_and_any_two_are_remedies_of_their_own() -> None:
    ways = [series[0].way for series in DeepThroat().doses(carrier())]
    assert ways[:3] == ["output", "middle", "pinion"]
    assert set(ways[3:6]) == {"output and middle", "both", "middle and pinion"}
    assert ways[6:] == ["output and middle and pinion"]
    assert [s[0].way for s in DeepThroat().doses(load_demo("marsh-runner"))] == [
        "output",
        "pinion",
        "both",
    ]
    codes = {remedy.code for remedy in REMEDIES}
    assert {"bearing-height", "output-drop", "output-and-bearing"} <= codes
    assert BearingHeight().doses(load_demo("marsh-runner")) == ()


def test_a_deeper_yoke_at_the_middle_is_bolted_to_the_same_flange() -> None:
    """Its joint stands farther from the bearing by what its flange is longer."""
    rig = carrier()
    cured = DeepThroat().applied(rig, Dose(1.0, "middle"))
    assert rig.carrier is not None
    assert cured.carrier is not None
    assert cured.carrier.middle.front_yoke.name == "deep-throat flange yoke"
    assert cured.carrier.middle.shaft_yoke.name == "deep-throat weld yoke"
    assert cured.shaft.output_end == rig.shaft.output_end
    deep = changed(rig, {"shaft.output_end.output_yoke": "deep-throat flange yoke"})
    faces = [seat_of(each, each.shaft.output_end) for each in (deep, rig)]
    assert faces[0] is not None
    assert faces[1] is not None
    beyond = [each.carrier.middle_joint_beyond.mm for each in (cured, rig)]  # type: ignore[union-attr]
    assert beyond[0] - beyond[1] == pytest.approx(faces[0] - faces[1], abs=0.003)
    assert parse_rig(rig_text(cured)) == cured


@pytest.mark.slow
def test_a_joint_that_alone_is_short_gets_its_own_yokes() -> None:
    """The middle yokes do alone, so no set that has them and more is offered."""
    rig = changed(carrier(), {"axle.points_up": "14 deg", "travel.droop": "9 in"})
    outcome = assessor().assess(rig)
    short = {joint for joint, left in outcome.margins.items() if left < outcome.reserve}
    assert short == {"middle"}
    bench = Bench(DeepThroat(), rig, outcome, assessor())
    ways = [trial.case.dose.way for trial in each_smallest(bench, Goal("clear"))]
    assert ways == ["middle"]
