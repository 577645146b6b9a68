"""The gaps to what lives around the shaft: closed forms, invariants, files, the rig's own table."""

import math
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from geometry.contact.clearance import clearance
from geometry.contact.convex import Bars, Boxes, Triangles
from geometry.errors import MeshError
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from sim.around import surroundings
from sim.around.rods import Rod
from sim.around.surroundings import SurroundingGap, smallest_gap, surrounding_gaps
from sim.around.things import Thing
from sim.check import check
from sim.derive import vehicle_of
from sim.hardware.joint import joint_hardware
from sim.line import line
from sim.rig import Rig, changed, load_rig, parse_rig
from sim.vehicle import RIDE, Pose, TravelRegion
from tests.sim.rigs import COORDINATES, only_problem, spoilt
from tests.sim.vehicles import FLIP, mirrored, plain, vehicles
from viewer.words.findings import says

TUBE = Rod("tube", 38.1, (0.0, 54.0), (1.0, -54.0))
FEW = settings(max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def box(at: tuple[float, float, float], size: tuple[float, float, float], moves=False) -> Thing:
    return Thing("box", Boxes(np.array([at]), 0.5 * np.array([size])), moves)


def test_a_floor_over_a_flat_shaft_is_as_near_as_the_tube_comes_up() -> None:
    """Closed form: straight up and down, the tube's upper side at its end nearer the pinion."""
    vehicle = plain(travel=TravelRegion(100.0, 200.0, 0.0, 0.0, 0.0))
    roof = box((280.0, 0.0, 400.0), (2000.0, 2000.0, 20.0))
    found = smallest_gap(vehicle, [TUBE], roof)
    state = line(vehicle, 100.0, 0.0, 0.0)
    ends = [state.p_C_output, state.p_C_pinion]
    u = state.shaft_axis_C
    highest = max(
        (ends[0] + 54.0 * u)[2], (ends[1] - 54.0 * u)[2]
    ) + 38.1 * np.sqrt(1.0 - u[2] ** 2)  # fmt: skip
    assert found.gap_mm == pytest.approx(390.0 - highest, abs=TOL.clearance)
    assert found.gap_mm - found.certified_mm <= TOL.clearance
    assert found.at.travel == pytest.approx(100.0)
    assert found.part == "tube"
    assert not found.touches


def test_the_capsule_is_cut_off_flat() -> None:
    """A wall right behind the tube's end is as far as the end is, not nearer by a radius."""
    vehicle = plain(travel=TravelRegion(0.0, 0.0, 0.0, 0.0, 0.0))
    state = line(vehicle, 0.0, 0.0, 0.0)
    u, end = state.shaft_axis_C, state.p_C_output + 54.0 * state.shaft_axis_C
    rim = 38.1 * np.sqrt(1.0 - u[0] ** 2)
    wall = box((float(end[0]) + rim + 20.0 + 5.0, 0.0, 200.0), (10.0, 900.0, 900.0))
    assert smallest_gap(vehicle, [TUBE], wall).gap_mm == pytest.approx(20.0, abs=0.01)


def test_what_moves_with_the_axle_and_the_shaft_is_equally_near_at_every_height() -> None:
    """With output and pinion lifted alike the shaft hardly turns: seen from the axle it stays."""
    vehicle = plain(
        p_C_output=np.array([1.0e5, 0.0, 0.0]), travel=TravelRegion(100.0, 100.0, 0.0, 0.0, 0.0)
    )
    guard = box((300.0, 0.0, 80.0), (20.0, 200.0, 10.0), moves=True)
    short = Rod("tube", 38.1, (1.0, -80.0), (1.0, 0.0))
    found = smallest_gap(vehicle, [short], guard)
    assert found.gap_mm == pytest.approx(80.0 - 5.0 - 38.1, abs=0.1)
    still = smallest_gap(vehicle, [short], replace(guard, moves=False))
    assert still.touches


@pytest.mark.slow
@FEW
@given(st.data())
def test_the_mirror_image_is_as_near(data: st.DataObject) -> None:
    vehicle = data.draw(vehicles(at="shaft"))
    at = np.array([data.draw(st.floats(-200.0, 200.0)) for _ in range(3)])
    middle = 0.5 * (vehicle.p_C_output + vehicle.p_A_pinion) + at
    for moves in (False, True):
        one = box(tuple(middle), (90.0, 60.0, 30.0), moves)
        other = box(tuple(middle * FLIP), (90.0, 60.0, 30.0), moves)
        here, there = (
            smallest_gap(v, [TUBE], t) for v, t in ((vehicle, one), (mirrored(vehicle), other))
        )
        assert here.touches == there.touches
        assert here.gap_mm == pytest.approx(there.gap_mm, abs=2.0 * TOL.clearance)


@pytest.mark.slow
@FEW
@given(st.data())
def test_a_pipe_turned_end_for_end_is_as_near_and_less_travel_leaves_no_less_room(
    data: st.DataObject,
) -> None:
    vehicle = data.draw(vehicles())
    middle = 0.5 * (vehicle.p_C_output + vehicle.p_A_pinion)
    middle += np.array([0.0, data.draw(st.floats(-150, 150)), data.draw(st.floats(60, 250))])
    along = np.array([data.draw(st.floats(-300.0, 300.0)), 20.0, data.draw(st.floats(-90, 90))])
    ends = (middle - along)[None], (middle + along)[None]
    pipe = Thing("pipe", Bars(*ends, np.array([25.0])))
    back = Thing("pipe", Bars(*ends[::-1], np.array([25.0])))
    found, turned = (smallest_gap(vehicle, [TUBE], each) for each in (pipe, back))
    assert found.gap_mm == pytest.approx(turned.gap_mm, abs=2.0 * TOL.clearance)
    box_ = vehicle.travel
    ways = ("bump", "droop", "roll", "nose_up", "nose_down")
    less = TravelRegion(*(0.6 * getattr(box_, way) for way in ways))
    assert smallest_gap(replace(vehicle, travel=less), [TUBE], pipe).gap_mm >= found.certified_mm


def test_where_it_touches_the_first_pose_from_ride_height_is_told() -> None:
    vehicle = plain(travel=TravelRegion(100.0, 200.0, 0.0, 0.0, 0.0))
    floor = box((280.0, 0.0, -150.0), (3000.0, 3000.0, 20.0))
    found = smallest_gap(vehicle, [TUBE], floor)
    assert found.touches
    assert found.certified_mm == 0.0

    def lowest(travel: float) -> float:
        state = line(vehicle, travel, 0.0, 0.0)
        u = state.shaft_axis_C
        return float((state.p_C_pinion - 54.0 * u)[2] - 38.1 * np.sqrt(1.0 - u[2] ** 2))

    assert lowest(found.at.travel) <= -140.0 + 1e-6
    assert lowest(found.at.travel + 200.0 / 128.0) > -140.0
    assert found.points[0] == pytest.approx(found.points[1], abs=1e-6)


def demo() -> Rig:
    return parse_rig(COORDINATES)


def gaps(rig: Rig) -> tuple[SurroundingGap, ...]:
    joints = {joint: joint_hardware(rig, joint) for joint in ("output", "pinion")}
    return surrounding_gaps(rig, vehicle_of(rig), joints)


@pytest.mark.slow
def test_an_ear_touches_where_the_tube_would_not() -> None:
    rig = demo()
    vehicle = vehicle_of(rig)
    at = vehicle.p_C_output + np.array([0.0, 0.0, 55.0])
    sheet = {"at": [f"{x:.3f} mm" for x in at], "size": ["30 mm", "300 mm", "18 mm"]}
    near = gaps(changed(rig, {"surroundings[1].box": sheet}))[0]
    assert near.part == "ears at the output end"
    assert near.touches
    assert near.at == RIDE or abs(near.at.travel) < 2.0


@pytest.mark.slow
def test_a_mesh_file_is_seen_from_the_rig_files_folder(tmp_path: Path) -> None:
    """A box drawn as a mesh, in inches, is as near as the box; after a change of the rig too."""
    size = (3.0, 30.0, 3.0)
    parts = tmp_path / "parts"
    parts.mkdir()
    trimesh.creation.box(size).export(parts / "member.stl")
    mesh = '{ file = "parts/member.stl", unit = "in", at = ["30 in", "0 in", "14 in"] }'
    old = 'box = { at = ["30 in", "0 in", "1 in"], size = ["3 in", "30 in", "3 in"] }'
    text = spoilt(COORDINATES, (old, f"mesh = {mesh}"))
    (tmp_path / "rig.toml").write_text(text, encoding="utf-8")
    rig = load_rig(tmp_path / "rig.toml")
    boxed = parse_rig(spoilt(COORDINATES, (old, old.replace('"1 in"', '"14 in"'))))
    (one,), (other,) = gaps(rig), gaps(boxed)
    assert one.gap_mm == pytest.approx(other.gap_mm, abs=1e-3)
    assert one.name == "crossmember"
    (later,) = gaps(changed(rig, {"travel.droop": "9 in"}))
    assert later.gap_mm <= one.gap_mm + TOL.clearance
    assert rig == parse_rig(text)


def test_a_shaft_wholly_inside_a_closed_mesh_touches_it() -> None:
    shell = trimesh.creation.box((4000.0, 4000.0, 4000.0))
    mesh = Mesh.uniform(shell.vertices, shell.faces, "shell")
    found = smallest_gap(plain(), [TUBE], Thing("shell", Triangles(mesh.triangles), mesh=mesh))
    assert found.touches


@pytest.mark.parametrize(
    ("shape", "key", "expected"),
    [
        ("", "surroundings[1].box", "one of box, cylinder and mesh"),
        ('box = { at = ["1 in", "1 in", "1 in"], size = ["1 in", "1 in", "1 in"] }\n'
         'cylinder = { from = ["1 in", "1 in", "1 in"], to = ["2 in", "1 in", "1 in"], '
         'outside = "1 in" }', "surroundings[1].cylinder", "only-one-of"),
        ('cylinder = { from = ["1 in", "1 in", "1 in"], to = ["1 in", "1 in", "1 in"], '
         'outside = "1 in" }', "surroundings[1].cylinder", "two ends apart"),
        ('mesh = { file = "a.stl", unit = "furlong", at = ["1 in", "1 in", "1 in"] }',
         "surroundings[1].mesh.unit", '"mm"'),
        ('cylinder = { form = ["1 in", "1 in", "1 in"], to = ["2 in", "1 in", "1 in"], '
         'outside = "1 in" }', "surroundings[1].cylinder.form", "from, the nearest"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_thing_is_told(shape: str, key: str, expected: str) -> None:
    old = 'box = { at = ["30 in", "0 in", "1 in"], size = ["3 in", "30 in", "3 in"] }'
    problem = only_problem(spoilt(COORDINATES, (old, shape)))
    assert problem.key == key
    assert expected in str(problem.expected)


def test_a_file_that_is_not_there_is_told_in_one_line() -> None:
    mesh = {"file": "gone.stl", "unit": "mm", "at": ["0 mm", "0 mm", "0 mm"]}
    rig = changed(demo(), {"surroundings[1].box": None, "surroundings[1].mesh": mesh})
    with pytest.raises(MeshError, match=r"surroundings, .*gone\.stl: cannot be read"):
        gaps(rig)


def test_pose_is_within_the_travel_box() -> None:
    for found in gaps(demo()):
        box_ = vehicle_of(demo()).travel
        at = np.array([found.at.travel, found.at.roll, found.at.wrap])
        assert (at >= box_.low - 1e-9).all()
        assert (at <= box_.high + 1e-9).all()
        assert isinstance(found.at, Pose)


@pytest.mark.slow
def test_a_search_cut_short_is_a_finding_of_its_own_judged_by_its_certificate(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Once a number that was merely met was told as the gap: here the search may hardly look."""
    away = {"surroundings[1].box.at": ["30 in", "0 in", "16 in"]}
    (true,) = check(changed(demo(), away)).found.near
    assert true.gap_mm > 5.0
    short = partial(clearance, most=1)
    monkeypatch.setattr(surroundings, "clearance", short)
    for wanted, verdict in (("1/64 in", "clear"), (f"{true.gap_mm:.3f} mm", "close")):
        cut = check(changed(demo(), {**away, "wanted.clearance": wanted}))
        (near,) = cut.found.near
        assert not near.finished
        assert near.certified_mm < true.certified_mm
        assert near.gap_mm >= true.certified_mm
        (found,) = [each for each in cut.findings if each.code.startswith("surroundings")]
        assert found.code == "surroundings-unfinished"
        assert found.verdict == ("close" if near.certified_mm < found.limit.value else verdict)
        assert "was cut short" in says(found)
        assert f"{math.floor(10.0 * near.certified_mm) / 10.0:.1f} mm)." in says(found)
        assert not any(word in says(found) for word in ("clears", "comes close"))


@pytest.mark.slow
def test_a_closed_mesh_from_a_file_that_the_shaft_is_inside_of_touches(tmp_path: Path) -> None:
    """Triangles of an STL share no corners, and a scan may be turned inside out."""
    for inside_out in (False, True):
        shell = trimesh.creation.box((200.0, 200.0, 200.0))
        if inside_out:
            shell.invert()
        shell.export(tmp_path / "shell.stl")
        text = spoilt(WITH_A_MESH, ("SHELL", '"shell.stl"'))
        (tmp_path / "rig.toml").write_text(text, encoding="utf-8")
        (found,) = gaps(load_rig(tmp_path / "rig.toml"))
        assert found.touches


WITH_A_MESH = spoilt(
    COORDINATES,
    ('box = { at = ["30 in", "0 in", "1 in"], size = ["3 in", "30 in", "3 in"] }',
     'mesh = { file = SHELL, unit = "in", at = ["0 in", "0 in", "0 in"] }'),
)  # fmt: skip
"""The rig with a mesh in place of its crossmember."""
