"""Rig texts that several tests start from, and ways to spoil them."""

from sim.hardware.head import EndHardware, end_hardware
from sim.rig import Problem, Rig, RigError, parse_rig
from sim.rig.typed_joints import typed_joints
from sim.vehicle import Joint

COORDINATES = """
schema = 1
name = "Test wagon, rear shaft"

[output]
joint = ["47 in", "1 1/2 in", "9 in"]
points_down = "3 deg"
points_right = "1 deg"

[axle]
position = "rear"
pinion_joint = ["11 in", "0 in", "1/2 in"]
points_up = "1 deg"
points_left = "0 deg"
wrap_centre = ["0 in", "0 in", "0 in"]

[travel]
bump = "4 in"
droop = "8 in"
roll = "8 deg"
stops_apart = "32 in"
droop_strap = "sides"
wrap_at_droop = "100 %"
nose_up = "8 deg"
nose_down = "4 deg"

[suspension]
kind = "leaf"
fixed_eye = ["24 in", "20 in", "4 in"]
seat = ["0 in", "20 in", "3 in"]

[shaft]
tube = { outside = "3 in", wall = "0.083 in" }
slip = { at = "shaft", closes = "1 1/4 in", opens = "2 1/4 in", comes_apart = "4 in" }
phase = "0 deg"

[shaft.output_end]
joint = "single"
cross = "27 x 82"
output_yoke = "flange yoke"
shaft_yoke = "weld yoke"

[shaft.pinion_end]
joint = "single"
cross = "27 x 82"
shaft_yoke = "weld yoke"
pinion_yoke = "strap yoke"

[[surroundings]]
name = "crossmember"
box = { at = ["30 in", "0 in", "1 in"], size = ["3 in", "30 in", "3 in"] }

[wanted]
bend = "2 deg"
gap = "1/16 in"
clearance = "1/2 in"
slip = "3/4 in"
"""
"""Every key that can be given with coordinates, so that nothing is assumed."""

PHONE_CALL = """
[output]
points_down = "3 deg"

[ride_height]
length = "36 5/16 in"
shaft_points_down = "14 deg"

[axle]
points_up = "1 deg"
snout = "11 in"

[travel]
bump = "4 in"
droop = "8 in"
"""
"""The least that a rig file can say."""

MEASURED = """
[suspension]
kind = "measured"

[[suspension.readings]]
at = "4 in bump"
length = "35 1/2 in"
points_up = "1/2 deg"

[[suspension.readings]]
at = "ride"
length = "36 5/16 in"
points_up = "1 deg"

[[suspension.readings]]
at = "8 in droop"
length = "39 1/8 in"
points_up = "3 deg"
"""
"""Readings that go with `PHONE_CALL`."""


def spoilt(text: str, *pairs: tuple[str, str]) -> str:
    """The text with parts of it put another way; each part has to be there once."""
    for old, new in pairs:
        assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
        text = text.replace(old, new)
    return text


def problems(text: str) -> dict[str, Problem]:
    """What is wrong with a rig text, by key path."""
    try:
        parse_rig(text, "test.toml")
    except RigError as fault:
        for line in str(fault).splitlines():
            assert line.startswith("test.toml: ")
        return {problem.key: problem for problem in fault.problems}
    raise AssertionError("nothing is wrong with it")


def only_problem(text: str) -> Problem:
    """The one thing that is wrong with a rig text."""
    found = problems(text)
    assert len(found) == 1, list(map(str, found.values()))
    return next(iter(found.values()))


def parts_of(rig: Rig) -> dict[Joint, EndHardware]:
    """Built parts of every joint of a rig."""
    return {each.joint: end_hardware(rig, each.joint) for each in typed_joints(rig)}
