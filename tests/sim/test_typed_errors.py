"""How far off a typed value may be: read behind the value, by tool, and put into a rig."""

import tomllib
from math import radians
from pathlib import Path
from pickle import dumps

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import norm

from geometry.errors import BindpointError
from sim.accuracy.off import off_of
from sim.accuracy.source import SURE, Source
from sim.accuracy.sources import rig_with, sources_of
from sim.derive import vehicle_of
from sim.line import line
from sim.rig import Rig, RigError, changed, demo_names, load_demo, parse_rig
from sim.rig.measured_with import MeasuredWith
from sim.rig.tools import better_tools, generic_tools, usual_tool
from sim.units import Angle, Length, UnitsError

PAGE = (Path(__file__).parents[2] / "docs" / "rig-file.md").read_text("utf-8")

LEAST = """
[output]
points_down = "3 deg"
[ride_height]
length = "36 5/16 in"
shaft_points_down = "14 deg"
[axle]
points_up = "1 deg"
[travel]
bump = "4 in"
droop = "8 in"
"""


def test_sure_is_the_normal_laws_own() -> None:
    assert pytest.approx(norm.ppf(0.975), rel=1e-15) == SURE


@pytest.mark.parametrize(
    ("text", "mm", "off", "tool"),
    [
        ("36 5/16 in +- 1/8 in", 922.3375, 3.175, ""),
        ("36-5/16 in ± 1/16 in", 922.3375, 1.5875, ""),
        ("922 mm +/- 2 mm", 922.0, 2.0, ""),
        ('3\' 0-5/16" +- 1/8"', 922.3375, 3.175, ""),
        ("36 in by tape", 914.4, None, "tape"),
        ("36 in by folding  rule", 914.4, None, "folding rule"),
        ("36 in +- 1 in by eye", 914.4, 25.4, "eye"),
        ("36 in by eye +- 1 in", 914.4, 25.4, "eye"),
        ("1/2 in +- 1 in", 12.7, 25.4, ""),
    ],
)
def test_an_error_stands_behind_the_value(
    text: str, mm: float, off: float | None, tool: str
) -> None:
    read = Length.parse(text)
    assert read.mm == pytest.approx(mm, rel=1e-12)
    assert read.off is not None
    assert (read.off.size, read.off.tool) == (pytest.approx(off) if off else None, tool)
    assert str(read) == text


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("36 in +- 0 in", "an error of zero"),
        ("36 in +- -1/8 in", "a negative error"),
        ("36 in +- 1/8", "behind +-: no unit after 1/8"),
        ("36 in +- 1 deg", "behind +-: deg measures an angle"),
        ("36 in +-", "behind +-: empty"),
        ("36 in by", "no tool after by"),
        ("+- 1/8 in", "empty"),
    ],
)
def test_what_is_no_error_is_told(text: str, says: str) -> None:
    with pytest.raises(UnitsError) as told:
        Length.parse(text)
    assert says in str(told.value)


_plain = st.one_of(
    st.integers(1, 2000).map(lambda n: f"{n} mm"),
    st.tuples(st.integers(0, 90), st.integers(1, 15)).map(lambda n: f"{n[0]} {n[1]}/16 in"),
)


@given(value=_plain, error=_plain, sign=st.sampled_from(["+-", "±", "+/-"]))
def test_an_error_changes_no_value(value: str, error: str, sign: str) -> None:
    bare, read = Length.parse(value), Length.parse(f"{value} {sign} {error}")
    assert read.mm == bare.mm
    assert bare.off is None
    assert read.off is not None
    assert read.off.size == Length.parse(error).mm


def test_angles_have_errors_in_rad() -> None:
    off = Angle.parse("3 deg +- 30 arcmin").off
    assert off is not None
    assert off.size == pytest.approx(radians(0.5))


def with_lines(lines: str) -> Rig:
    return parse_rig(LEAST + lines)


def by_key(rig: Rig) -> dict[str, Source]:
    return {each.key: each for each in sources_of(rig)}


def test_who_says_how_far_off_is_asked_in_order() -> None:
    """The value itself, then the tool named for the file, then the usual one."""
    rig = with_lines('[measured_with]\nlengths = "laser"\nangles = "phone"\n')
    rig = changed(rig, {"ride_height.length": "36 in +- 1/4 in", "output.points_down": "3 deg"})
    rig = changed(rig, {"axle.points_up": "1 deg by digital level"})
    told = by_key(rig)
    level, phone = generic_tools()["digital level"], generic_tools()["phone"]
    assert told["ride_height.length"].off == pytest.approx(6.35)
    assert (told["axle.points_up"].off, told["axle.points_up"].tool) == (level.angle, level.name)
    assert (told["output.points_down"].off, told["output.points_down"].why) == (phone.angle, "tool")
    plain = by_key(with_lines(""))
    assert plain["output.points_down"].off == usual_tool("angle").angle
    assert plain["output.points_down"].why == "usual"
    assert plain["travel.roll"].why == "assumed"
    assert plain["travel.roll"].off == pytest.approx(radians(5.5))  # 8 deg where 4 or 15 may be


def test_tools_of_the_shops_own() -> None:
    said = MeasuredWith.model_validate(
        {"angles": "long level", "tools": ({"name": "long level", "angle": "0.1 deg"},)}
    )
    assert off_of(Angle.parse("3 deg"), said)[0] == pytest.approx(radians(0.1))
    assert better_tools(radians(0.5), "angle", said)[0].name == "long level"
    assert "caliper" not in [each.name for each in better_tools(3.2, "length")]


@pytest.mark.parametrize(
    ("line", "key"),
    [
        ('[measured_with]\nangles = "my level"\n', "measured_with.angles"),
        ('[measured_with]\nangles = "tape"\n', "measured_with.angles"),
        ('[shaft.slip]\ncloses = "1 in by digital level"\n', "shaft.slip.closes"),
        ('[shaft.slip]\ncloses = "1 in by tpae"\n', "shaft.slip.closes"),
    ],
)
def test_a_tool_that_is_not_known_or_reads_something_else_is_told(line: str, key: str) -> None:
    with pytest.raises(RigError) as told:
        with_lines(line)
    (problem,) = told.value.problems
    assert problem.key == key


@pytest.mark.parametrize("name", demo_names())
def test_what_is_put_off_is_what_is_typed_so(name: str) -> None:
    """Each number put off by its error, against the same typed into the file and read anew."""
    rig = load_demo(name)
    poses = np.array([[-100.0, 0.0, 0.0], [0.0, 0.0, 0.0], [50.0, 0.05, 0.02]]).T
    compared = 0
    for each in sources_of(rig):
        size = each.value + each.off
        text = f"{size} mm" if each.unit == "mm" else f"{size} rad"
        try:
            typed = changed(rig, {each.key: text})
        except BindpointError:  # a check of the file refuses it, as places that contradict
            continue
        one, other = (line(vehicle_of(made), *poses) for made in (each.put(rig, each.off), typed))
        for joint, bends in one.bends.items():
            assert bends == pytest.approx(other.bends[joint], abs=1e-9, nan_ok=True), each.key
        assert one.slip == pytest.approx(other.slip, abs=1e-6, nan_ok=True)
        compared += 1
    assert compared > 10


@pytest.mark.parametrize("name", demo_names())
def test_every_number_that_may_be_off_makes_another_vehicle(name: str) -> None:
    """Or another thing near the shaft."""
    rig = load_demo(name)
    was = dumps(vehicle_of(rig))
    for each in sources_of(rig):
        put = each.put(rig, each.off)
        assert dumps(vehicle_of(put)) != was or put.surroundings != rig.surroundings, each.key


def test_several_at_once_are_each_by_itself() -> None:
    rig = load_demo("marsh-runner")
    two = sources_of(rig)[:2]
    both = rig_with(rig, two, (1.0, 2.0))
    one = two[0].put(two[1].put(rig, 2.0), 1.0)
    assert np.allclose(vehicle_of(both).p_C_output, vehicle_of(one).p_C_output)


def test_the_page_lists_the_tools() -> None:
    listed = PAGE[PAGE.index("<!-- tools -->") : PAGE.index("<!-- /tools -->")]
    rows = [line for line in listed.splitlines() if line.startswith("| ")]
    text = (Path(__file__).parents[2] / "models/accuracy/tools.toml").read_text("utf-8")
    tools = tomllib.loads(text)["tools"]
    assert rows == [
        f"| {tool['name']} | {', '.join(tool[k] for k in ('length', 'angle') if k in tool)} "
        f"| {tool['source']} |"
        for tool in tools
    ]
