"""Drawings of how a bench reading is taken."""

from math import pi, radians

import numpy as np
import pytest

from geometry.joint import rotations
from sim.hardware.joint import JointHardware, joint_hardware
from sim.rig import parse_rig
from tests.sim.rigs import COORDINATES
from viewer.bench.drawing import Bend, bent_on_bench, ears_turned
from viewer.bench.elsewhere import hand_turned, in_papers
from viewer.bench.plans import Bench
from viewer.draw.plan import Plan, Stroke, Word
from viewer.words.bench import WAYS


@pytest.fixture(scope="module")
def joint() -> JointHardware:
    return joint_hardware(parse_rig(COORDINATES), "pinion")


@pytest.mark.parametrize("spin", [0.2, 1.0, 2.4, 4.0])
@pytest.mark.parametrize("clamped", ["driving", "driven"])
def test_ears_are_turned_as_the_bores_are(clamped: str, spin: float) -> None:
    # Against the rotations of the joint, which a multibody library confirms: the bores' angle to
    # the plane of the bend, about the clamped yoke's own axis.
    bend = 0.5
    R = rotations(bend, spin)
    bores = (R.R_JD if clamped == "driving" else R.R_JN)[:, 1]
    axis = (R.R_JD if clamped == "driving" else R.R_JN)[:, 0]
    in_plane = np.cross([0.0, 0.0, 1.0], axis)
    angle = np.arctan2(bores[2], bores @ in_plane)
    turned = ears_turned(clamped, np.array(bend), np.array(spin))
    assert min(abs(np.sin(angle - turned)), abs(np.sin(angle + turned))) < 1e-12


@pytest.mark.parametrize("clamped", ["driving", "driven"])
@pytest.mark.parametrize("turned", [0.0, 0.25 * pi, 0.5 * pi])
def test_it_is_bent_to_its_touch_with_the_ears_as_said(
    joint: JointHardware, clamped: str, turned: float
) -> None:
    bent = Bend.of(joint, clamped, turned)
    curve = joint.touch()
    assert bent.bend in curve.touch
    found = ears_turned(clamped, np.array(bent.bend), np.array(bent.spin))
    off = min(abs(np.sin(found - turned)), abs(np.sin(found + turned)))
    assert off < np.sin(2.0 * pi / len(curve.spin))


def test_ears_in_line_of_one_yoke_are_ears_across_of_the_other(joint: JointHardware) -> None:
    one, other = Bend.of(joint, "driving", 0.0), Bend.of(joint, "driven", 0.5 * pi)
    assert one.bend == pytest.approx(other.bend, abs=1e-9)


def test_a_whole_turn_is_drawn_where_it_touches_first(joint: JointHardware) -> None:
    assert Bend.of(joint, "driven", None).bend == float(np.nanmin(joint.touch().touch))


@pytest.mark.slow
@pytest.mark.parametrize("clamped", ["driving", "driven"])
def test_the_bend_is_drawn_true(joint: JointHardware, clamped: str) -> None:
    bent = Bend.of(joint, clamped, 0.5 * pi)
    plan = bent_on_bench(bent)
    dashed = [m.segments for m in plan.marks if isinstance(m, Stroke) and m.dashes]
    ways = np.concatenate(dashed)[:, 1] - np.concatenate(dashed)[:, 0]
    angles = np.arctan2(ways[:, 1], ways[:, 0])
    assert np.ptp(angles) == pytest.approx(bent.bend, abs=1e-9)
    assert radians(10.0) < bent.bend < radians(45.0)


@pytest.mark.slow
@pytest.mark.parametrize("held", ["shaft yoke", "pinion yoke"])
def test_every_way_is_drawn_within_its_frame_and_named(joint: JointHardware, held: str) -> None:
    bench = Bench.of(joint, held)
    for way in WAYS:
        plan = bench.plan(way)
        _within(plan)
        words = [mark.text for mark in plan.marks if isinstance(mark, Word)]
        assert words
        if way.ears:
            assert f"clamped: {bench.name}" in words


def _within(plan: Plan) -> None:
    for mark in plan.marks:
        if isinstance(mark, Stroke) and len(mark.segments):
            assert (mark.segments.min(axis=(0, 1)) >= plan.low - 1e-6).all()
            assert (mark.segments.max(axis=(0, 1)) <= plan.high + 1e-6).all()


@pytest.mark.slow
@pytest.mark.parametrize("end", ["output", "pinion"])
def test_off_the_bench_both_ends_are_drawn(end: str) -> None:
    hardware = joint_hardware(parse_rig(COORDINATES), "output" if end == "output" else "pinion")
    for plan in (hand_turned(hardware), in_papers(hardware)):
        _within(plan)
    words = {mark.text for mark in hand_turned(hardware).marks if isinstance(mark, Word)}
    assert {"stand", "jack", "turn by hand", "droop"} <= words
