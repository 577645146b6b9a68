"""The round stretches of a shaft: what they are, and that they lie where its parts lie."""

import numpy as np
import pytest

from geometry.tolerances import TOL
from sim.check import check
from sim.derive import vehicle_of
from sim.hardware import joint_hardware
from sim.head_hardware import end_hardware
from sim.line import turn
from sim.rig import Rig, changed, parse_rig
from sim.rig.demos import load_demo
from sim.rods import Rod, rod_ends, shaft_rods
from sim.surroundings import SurroundingGap, surrounding_gaps
from tests.sim.rigs import COORDINATES

ON_THE_SHAFT = 1e-9
"""Rounding of places (mm) that are computed two ways."""


def rods_of(rig: Rig) -> dict[str, Rod]:
    joints = {joint: end_hardware(rig, joint) for joint in joint_names(rig)}
    return {rod.name: rod for rod in shaft_rods(rig, joints)}


def joint_names(rig: Rig) -> tuple[str, ...]:
    return ("output", "pinion") if rig.carrier is None else ("output", "middle", "pinion")


def near(rig: Rig, at: list[float], size: float) -> SurroundingGap:
    """The gap to a cube (mm) near the shaft."""
    cube = [{"name": "cube", "box": {"at": millimetre_texts(at), "size": [f"{size} mm"] * 3}}]
    rig = changed(rig, {"surroundings": cube})
    joints = {joint: end_hardware(rig, joint) for joint in joint_names(rig)}
    (found,) = surrounding_gaps(rig, vehicle_of(rig), joints)
    return found


def millimetre_texts(values: list[float]) -> list[str]:
    return [f"{value:.6f} mm" for value in values]


def test_the_rods_of_a_rig_are_its_tube_and_the_circles_of_its_ears() -> None:
    rig = parse_rig(COORDINATES)
    joints = {joint: joint_hardware(rig, joint) for joint in ("output", "pinion")}
    tube, output, pinion = shaft_rods(rig, joints)
    yoke = joints["output"].driven
    assert tube.radius == pytest.approx(38.1)
    assert tube.start == (0.0, yoke.weld_land)
    assert output.start[1] == pytest.approx(-yoke.dimensions["ear_radius"], abs=TOL.chord)
    assert output.stop == tube.start
    assert pinion.stop == tube.stop
    assert pinion.start == (1.0, -output.start[1])
    corner = np.hypot(*yoke.contact.vertices[:, 1:].T)[yoke.contact.vertices[:, 0] < 0.0].max()
    assert output.radius >= corner > tube.radius


@pytest.mark.parametrize("pinion", [False, True])
def test_the_rods_of_a_head_begin_at_its_crosses(pinion: bool) -> None:
    """In random poses they lie where the turned parts do, which a multibody library confirms."""
    rig = load_demo("short-tailed-scout")
    if pinion:
        ends = {"shaft.pinion_end.joint": "double", "shaft.pinion_end.pinion_yoke": "flange yoke"}
        rig = changed(rig, ends)
    vehicle, rods = vehicle_of(rig), rods_of(rig)
    low, high = vehicle.travel.low, vehicle.travel.high
    poses = low + (high - low) * np.random.default_rng(3).uniform(size=(20, 3))
    parts = turn(vehicle, *poses.T, 0.4).X_C
    for end, ears in (("output", "output end's ears"), ("pinion", "pinion end's ears")):
        start, stop = rod_ends(vehicle, rods[ears], poses)
        yoke = parts[f"{end} shaft yoke"]
        for found, along in ((start, rods[ears].start[1]), (stop, rods[ears].stop[1])):
            there = yoke[:, :3, 3] + along * sense(end) * yoke[:, :3, 0]
            assert found == pytest.approx(there, abs=ON_THE_SHAFT)
        if f"{end} head's centre yoke" in rods:
            rod = rods[f"{end} head's centre yoke"]
            start, stop = rod_ends(vehicle, rod, poses)
            crosses = [parts[f"{end} {cross}"][:, :3, 3] for cross in ("cross", "second cross")]
            middle, between = 0.5 * (crosses[0] + crosses[1]), crosses[1] - crosses[0]
            assert 0.5 * (start + stop) == pytest.approx(middle, abs=ON_THE_SHAFT)
            assert np.cross(stop - start, between) == pytest.approx(0.0, abs=1e-6)
            assert np.linalg.norm(stop - start, axis=-1) == pytest.approx(
                np.linalg.norm(between, axis=-1) - 2.0 * rod.start[1], abs=ON_THE_SHAFT
            )
    assert ("pinion head's centre yoke" in rods) == pinion


def sense(end: str) -> float:
    """Which way a shaft yoke's x axis points along the shaft, away from its own cross."""
    return 1.0 if end == "output" else -1.0


def test_a_cube_in_the_centre_yoke_of_a_head_touches() -> None:
    """Beside the ball, where the ring of the centre yoke turns and no ear does."""
    rig = load_demo("short-tailed-scout")
    radius = rods_of(rig)["output head's centre yoke"].radius
    ball = vehicle_of(rig).p_C_output
    found = near(rig, [ball[0] + 30.0, radius - 1.0, ball[2]], 6.0)
    assert found.touches
    assert found.part == "output head's centre yoke"


def test_what_crosses_the_front_section_touches() -> None:
    """A crossmember through the front tube; clear of it, the gap is a closed form."""
    rig = load_demo("timber-crew-carrier")
    section = vehicle_of(rig).section
    assert section is not None
    at = 0.5 * (section.p_C_output + section.p_C_bearing)
    found = near(rig, list(at), 40.0)
    assert found.touches
    assert found.part == "front tube"
    beside = near(rig, [at[0], 100.0, at[2]], 40.0)
    assert beside.gap_mm == pytest.approx(100.0 - 20.0 - 0.5 * 3.5 * 25.4, abs=0.01)


def test_the_whole_of_a_two_piece_shaft_is_judged() -> None:
    rig = changed(
        load_demo("timber-crew-carrier"),
        {
            "surroundings": [
                {
                    "name": "crossmember",
                    "box": {"at": ["75 in", "0 in", "10 1/4 in"], "size": ["3 in"] * 3},
                }
            ]
        },
    )
    assert check(rig).verdict == "touches"
