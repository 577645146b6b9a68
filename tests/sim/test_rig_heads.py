"""Rigs with a double-Cardan head: the schema, the parts, and what a check makes of them."""

import numpy as np
import pytest

from sim.check import check
from sim.derive import vehicle_of
from sim.hardware.head import HeadHardware, end_hardware
from sim.line import running
from sim.rig import RigError, changed, parse_rig
from sim.rig.demos import demo_text, load_demo
from viewer.words.problems import problem_words

NAME = "short-tailed-scout"


def test_the_head_of_the_catalogue_decides_the_split() -> None:
    vehicle = vehicle_of(load_demo(NAME))
    assert vehicle.output_head is not None
    assert vehicle.pinion_head is None
    hardware = end_hardware(load_demo(NAME), "output")
    assert isinstance(hardware, HeadHardware)
    assert hardware.head == vehicle.output_head
    assert sum(hardware.bends(0.4)) == pytest.approx(0.4, abs=1e-12)


@pytest.mark.slow
def test_the_check_limits_the_whole_head_by_its_crosses_and_its_ball() -> None:
    result = check(load_demo(NAME))
    found = result.joints["output"]
    hardware = found.hardware
    assert isinstance(hardware, HeadHardware)
    clear = found.curve.certified_clear
    for bend, cross in zip(hardware.bends(clear), hardware.crosses, strict=True):
        assert bend <= cross.touch().certified_clear + 1e-9
    assert clear <= hardware.head.limit
    assert 0.0 < found.curve.touch_min - clear <= np.radians(0.1) + 1e-12
    assert result.verdict == "clear"


@pytest.mark.slow
def test_a_gap_in_the_head_closes_where_the_curve_says_it_touches() -> None:
    hardware = end_hardware(load_demo(NAME), "output")
    curve = hardware.touch()
    assert not hardware.smallest_gap(curve.certified_clear).overlaps
    assert hardware.smallest_gap(curve.touch_min + np.radians(0.1)).overlaps
    gap = hardware.smallest_gap(curve.certified_clear)
    assert set(hardware.names(gap)) <= {
        "output flange yoke",
        "center yoke",
        "shaft's weld yoke",
        "cross",
    }


def test_a_head_runs_more_evenly_than_two_single_joints_alike_in_bend() -> None:
    headed = running(vehicle_of(load_demo(NAME)))
    single = changed(
        load_demo(NAME), {"shaft.output_end.joint": "single", "shaft.output_end.head": None}
    )
    assert len(headed.bends) == 3
    assert headed.greatest_acceleration < 0.2 * running(vehicle_of(single)).greatest_acceleration


def test_a_head_at_the_pinion_carries_its_ball_there() -> None:
    rig = changed(
        load_demo(NAME),
        {
            "shaft.pinion_end.joint": "double",
            "shaft.pinion_end.head": "ordinary head",
            "shaft.pinion_end.pinion_yoke": "flange yoke",
        },
    )
    hardware = end_hardware(rig, "pinion")
    assert isinstance(hardware, HeadHardware)
    assert hardware.driven.kind == "flange yoke"
    assert not hardware.carrying_drives
    assert vehicle_of(rig).pinion_head == hardware.head


@pytest.mark.parametrize(
    ("typed", "instead", "key", "says"),
    [
        ('head = "high-angle head"', 'head = "high angel head"', "head", "high-angle head"),
        ('joint = "double"', 'joint = "single"', "head", "single joint"),
        ('joint = "double"', 'joint = "tripod"', "joint", "double"),
        ('output_yoke = "flange yoke"', 'output_yoke = "strap yoke"', "head", "open toward"),
        (
            'head = "high-angle head"',
            'head = { kind = "high-angle head", ball = "2 in" }',
            "head",
            "ball",
        ),
        (
            'head = "high-angle head"',
            'head = { kind = "high-angle head", bal = "36 mm" }',
            "head.bal",
            "ball",
        ),
    ],
)
def test_impossible_heads_are_told(typed: str, instead: str, key: str, says: str) -> None:
    text = demo_text(NAME)
    assert typed in text
    with pytest.raises(RigError) as told:
        parse_rig(text.replace(typed, instead, 1))
    lines = map(problem_words, told.value.problems)
    assert any(key in line and says in line for line in lines), told.value


def test_a_double_joint_without_a_head_gets_the_generic_one() -> None:
    rig = parse_rig(demo_text(NAME).replace('head = "high-angle head"\n', ""))
    assert rig.shaft.output_end.head is not None
    assert rig.shaft.output_end.head.name == "ordinary head"
    assert "shaft.output_end.head" in [assumed.key for assumed in rig.assumed]
