"""What lives around the shaft in pictures and exports: bodies in their places, gaps marked."""

from dataclasses import replace

import numpy as np
import pytest
import trimesh

from geometry.contact.convex import Bars, Boxes, Triangles
from geometry.mesh import Mesh
from sim.around.surroundings import SurroundingGap, gaps_at, surrounding_gaps
from sim.around.things import Thing
from sim.check import check
from sim.derive import vehicle_of
from sim.frames import Rx, Rz, pose
from sim.rig import changed, parse_rig
from sim.vehicle import RIDE, Pose
from tests.sim.rigs import COORDINATES
from tests.simple_shapes import box
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.subjects import AT, blocks, posed, shaft
from viewer.check.picture import check_picture
from viewer.draw.camera import Region
from viewer.draw.verdict_mark import BLUE, RED
from viewer.rigs import named_rig
from viewer.scene.build_shaft import export_parts, nearby, shaft_picture
from viewer.scene.check_sheet import CheckPicture
from viewer.scene.mount import CHASSIS, HOUSING
from viewer.scene.nearby import Nearby
from viewer.scene.parts import PosedPart
from viewer.scene.surroundings import thing_part
from viewer.scene.suspension import END
from viewer.words.captions import WIDTH
from viewer.written.export import file_names, stl

FRAMES = {CHASSIS: np.eye(4), HOUSING: pose(Rz(0.2) @ Rx(0.1), [5.0, -3.0, -200.0])}


def bounds(parts) -> np.ndarray:
    corners = np.concatenate([part.in_chassis for part in parts])
    return np.stack([corners.min(axis=0), corners.max(axis=0)])


# bodies


def test_a_box_a_pipe_and_a_mesh_stand_where_the_rig_says() -> None:
    boxes = Boxes(np.array([[300.0, 10.0, 200.0]]), np.array([[40.0, 100.0, 30.0]]))
    (part,) = thing_part(0, Thing("crossmember", boxes)).posed(FRAMES)
    np.testing.assert_allclose(bounds([part]), [[260, -90, 170], [340, 110, 230]], atol=1e-9)
    assert part.mesh.is_watertight
    start, stop = np.array([[0.0, 50.0, 0.0]]), np.array([[400.0, 50.0, 300.0]])
    bars = Bars(start, stop, np.array([28.0]))
    (pipe,) = thing_part(0, Thing("exhaust", bars)).posed(FRAMES)
    volume = np.pi * 28.0**2 * 500.0
    np.testing.assert_allclose(pipe.mesh.volume, volume, rtol=0.01)
    along = (pipe.in_chassis - start[0]) @ [0.8, 0.0, 0.6]
    np.testing.assert_allclose([along.min(), along.max()], [0.0, 500.0], atol=1e-9)
    scan = box((0, 0, 0), (10, 20, 30), "scan")
    thing = Thing("guard", Triangles(scan.triangles), moves=True, mesh=scan)
    (guard,) = thing_part(0, thing).posed(FRAMES)
    assert guard.mesh is scan
    np.testing.assert_array_equal(guard.X_CP, FRAMES[HOUSING])


@pytest.mark.parametrize("name", ["ridge-crawler", "river-bend-hauler", "heather-moor-scout"])
def test_links_end_on_chassis_and_axle_and_keep_their_length(name: str) -> None:
    rig = named_rig(f"demo:{name}")
    vehicle = vehicle_of(rig)
    rides, moved = (nearby(rig, vehicle, at).suspension for at in (RIDE, Pose(-60.0, 0.05, 0.0)))
    assert len(rides) == len(moved) >= len(vehicle.suspension.members)
    give = 0.5 if vehicle.suspension.binds else 1e-6
    for still, part in zip(rides, moved, strict=True):
        member = next(m for m in vehicle.suspension.members if m.name == part.name)
        lengths = [p.mesh.bounds[1, 0] - p.mesh.bounds[0, 0] - 2.0 * END for p in (still, part)]
        if not vehicle.suspension.binds:
            np.testing.assert_allclose(*lengths, atol=give)
        ends = still.X_CP[:3, 3], still.X_CP[:3, 3] + lengths[0] * still.X_CP[:3, 0]
        for end in ends:
            assert min(np.linalg.norm(end - p) for p in member.points) < 0.1


def test_leaf_springs_run_from_the_fixed_eye_over_the_seat() -> None:
    rig = parse_rig(COORDINATES)
    vehicle = vehicle_of(rig)
    left, right = nearby(rig, vehicle, AT).suspension
    axle = vehicle.suspension.poses(AT.travel, AT.roll, AT.wrap)
    for part, side in ((left, 1.0), (right, -1.0)):
        mirror = np.array([1.0, side, 1.0])
        seat = axle.R_CA @ (np.array(vehicle.suspension.seat) * mirror) + axle.p_C_A
        np.testing.assert_allclose(part.X_CP[:3, 3], seat, atol=1e-9)
        eye = np.array(vehicle.suspension.fixed_eye) * mirror
        near = np.linalg.norm((part.in_chassis - eye)[:, [0, 2]], axis=1)
        np.testing.assert_allclose(np.sort(near)[:20], 20.0, atol=0.6)
        assert part.mesh.is_watertight


@pytest.mark.parametrize("at", [RIDE, Pose(-50.0), AT, Pose(80.0, -0.03, 0.05)])
def test_a_spring_is_one_closed_body_as_another_library_reads_it(at: Pose) -> None:
    """Its bent lengths once left gaps between them too thin to see."""
    rig = parse_rig(COORDINATES)
    for part in nearby(rig, vehicle_of(rig), at).suspension:
        stream = trimesh.util.wrap_as_stream(stl(part))
        body = trimesh.load_mesh(stream, file_type="stl")
        assert body.is_watertight
        assert len(body.split()) == 1
        np.testing.assert_allclose(body.volume, part.mesh.volume, rtol=1e-6)


def test_where_only_travel_is_known_nothing_is_made_up() -> None:
    rig = named_rig("demo:goat-path-buggy")
    assert nearby(rig, vehicle_of(rig), RIDE).suspension == ()


@pytest.mark.slow
def test_in_an_export_each_body_has_a_name_of_its_own() -> None:
    rig = parse_rig(COORDINATES.replace('name = "crossmember"', 'name = "pinion yoke"'))
    around = nearby(rig, vehicle_of(rig), AT).for_export
    assert [part.name for part in around] == [
        "surroundings 1 pinion yoke", "suspension 1 left spring", "suspension 2 right spring",
    ]  # fmt: skip
    assert len(file_names([part.name for part in (*export_parts(posed()), *around)])) == 9


# gaps


def test_the_gap_of_one_pose_agrees_with_that_of_the_whole_travel() -> None:
    found = posed()
    rig = parse_rig(COORDINATES)
    hardware = {name: joint.hardware for name, joint in found.joints.items()}
    (whole,) = surrounding_gaps(rig, found.vehicle, hardware)
    (here,) = gaps_at(rig, found.vehicle, hardware, whole.at)
    np.testing.assert_allclose(here.gap_mm, whole.gap_mm, atol=1e-6)
    np.testing.assert_allclose(here.points, whole.points, atol=1e-3)
    for at in (RIDE, AT, Pose(50.0, -0.1, 0.05)):
        (other,) = gaps_at(rig, found.vehicle, hardware, at)
        assert other.gap_mm >= whole.certified_mm - 1e-9
        assert other.at == at
        apart = np.linalg.norm(other.points[1] - other.points[0])
        np.testing.assert_allclose(apart, other.gap_mm, atol=1e-6)


# pictures


def gap_at(points: np.ndarray, gap_mm: float) -> SurroundingGap:
    return SurroundingGap(
        name="crossmember", part="tube", of="shaft", yields=False, gap_mm=gap_mm,
        certified_mm=gap_mm, finished=True, at=AT, points=points, fixed_to_axle=False,
    )  # fmt: skip


def with_thing(points, gap_mm: float = 40.0):
    mark = gap_at(np.array(points), gap_mm)
    body = PosedPart("crossmember", "surrounding", box((-30, -200, 0), (30, 200, 60), "side"),
                     pose(np.eye(3), points[1]))  # fmt: skip
    return replace(shaft(), near=Nearby((body,), (), mark))


def test_a_gap_is_marked_between_its_two_points_in_both_units() -> None:
    picture = with_thing([[600.0, 0.0, 150.0], [600.0, 0.0, 190.0]])
    stage = RecordingStage()
    picture.draw(stage, stage.region)
    assert {"GAP 1.57 in (40 mm)", "tube to crossmember", "crossmember"} <= set(stage.said())
    ends = stage.cameras["shaft"].project(picture.near.gap.points, stage.regions["shaft"])
    blue = [c.told["segments"] for c in stage.of("stroke") if c.told["pen"].colour == BLUE]
    assert any(np.allclose(line[0], ends, atol=1e-9) for line in blue)
    assert "crossmember" in [call.told["name"] for call in stage.of("solid", "shaft")]


def test_a_touch_is_ringed_and_said_in_words_not_by_its_colour_alone() -> None:
    stage = RecordingStage()
    with_thing([[600.0, 0.0, 150.0]] * 2, 0.0).draw(stage, stage.region)
    assert "HITS THE CROSSMEMBER" in stage.said()
    red = [len(c.told["segments"]) for c in stage.of("stroke") if c.told["pen"].colour == RED]
    assert 96 + 4 in red


def test_a_gap_to_the_side_is_looked_at_from_above() -> None:
    rig, found = parse_rig(COORDINATES), posed()
    points = np.array([[600.0, 40.0, 150.0], [600.0, 90.0, 155.0]])
    near = nearby(rig, found.vehicle, AT, gap_at(points, 50.2))
    assert near.is_beside
    picture = shaft_picture(found, (76.2, 2.1), "x", near=near)
    stage = RecordingStage()
    picture.draw(stage, stage.region)
    assert "Seen from above" in stage.said()
    assert "level" not in stage.said()
    ends = stage.cameras["shaft"].project(points, stage.regions["shaft"])
    scale = stage.cameras["shaft"].px_per_mm(stage.regions["shaft"])
    np.testing.assert_allclose(np.linalg.norm(ends[1] - ends[0]) / scale, 50.0, rtol=1e-6)
    forward = stage.cameras["shaft"].R_VC @ [1.0, 0.0, 0.0]
    np.testing.assert_allclose(forward, [-1.0, 0.0, 0.0], atol=1e-12)


def test_links_and_springs_are_seen_whole_and_things_as_far_as_they_are_near() -> None:
    long = box((0, -20, 0), (9000, 20, 40), "side")
    far = PosedPart("rail", "surrounding", long, pose(np.eye(3), [0.0, 300.0, 100.0]))
    springs = nearby(parse_rig(COORDINATES), posed().vehicle, AT).suspension
    picture = replace(shaft(), near=Nearby((far,), springs))
    stage = RecordingStage()
    picture.draw(stage, stage.region)
    camera, region = stage.cameras["shaft"], stage.regions["shaft"]
    for part in (*picture.parts, *springs):
        seen = camera.project(part.in_chassis, region)
        assert (seen >= region.corners[0]).all()
        assert (seen <= region.corners[1]).all()
    assert "rail" in stage.said()


# the sheet of a check


def test_a_part_of_a_page_is_a_page_of_its_own() -> None:
    """What is drawn on a part is drawn on the whole, moved by the part's corner."""
    whole, alone = RecordingStage((1600, 2000)), RecordingStage((1600, 1000))
    picture = blocks(2.0)
    picture.draw(whole, Region(0.0, 1000.0, 1600.0, 1000.0))
    picture.draw(alone, alone.region)
    assert len(whole.calls) == len(alone.calls)
    shift = np.array([0.0, 1000.0])
    for moved, call in zip(whole.calls, alone.calls, strict=True):
        assert moved.verb == call.verb
        for key in ("segments", "triangles", "at"):
            if call.verb in ("stroke", "area", "write") and key in call.told:
                np.testing.assert_allclose(
                    np.asarray(moved.told[key]), np.asarray(call.told[key]) + shift, atol=1e-9
                )
    for name, region in alone.regions.items():
        np.testing.assert_allclose(whole.regions[name].corners, region.corners + shift)


def test_the_sheet_has_the_joint_above_the_shaft_below_and_one_caution() -> None:
    lines = ("The strap bolt hits the throat.", "Slip: 1 in to spare.")
    sheet = CheckPicture("A wagon", "TOUCHES: Pinion joint binds.", lines, blocks(2.0), shaft())
    stage = RecordingStage(sheet.size)
    sheet.draw(stage, stage.region)
    heights = [call.told["at"][1] for call in stage.calls if call.verb == "write"]
    said = stage.said()[: 2 + len(lines)]
    assert said == [sheet.rig, sheet.verdict, *lines], "the first page stands above the pictures"
    head = heights[len(said) - 1]
    assert head > stage.regions["joint"].top > stage.regions["joint"].bottom
    assert stage.regions["joint"].bottom > stage.regions["shaft"].top
    assert " ".join(stage.said()).count("not a rating of strength") == 1
    assert stage.said().count("FORWARD") == 2


@pytest.mark.slow
def test_a_check_is_shown_where_the_shaft_comes_nearest_to_its_surroundings() -> None:
    rig = parse_rig(COORDINATES)
    result = check(rig)
    (gap,) = result.found.near
    picture = check_picture(result)
    assert picture.shaft.near.gap is gap
    assert "crossmember" in picture.shaft.headline
    alone = changed(rig, {"surroundings": None})
    bare = check_picture(replace(result, found=replace(result.found, rig=alone)))
    assert bare.shaft.near.gap is None
    assert bare.shaft.headline == "The whole shaft in the same pose"
    tightest = result.joints[result.tightest]
    bend = next(j.bend for j in bare.shaft.joints if j.name == f"{result.tightest} joint")
    np.testing.assert_allclose(bend, tightest.sweep.most.value, atol=1e-9)


@pytest.mark.slow
def test_a_sheet_tells_the_verdict_where_only_the_slip_runs_out() -> None:
    """Its joints have room to spare: without the verdict the sheet would look like a pass."""
    result = check(named_rig("demo:goat-path-buggy"))
    picture = check_picture(result)
    assert picture.joint.headline.endswith("deg left")
    assert picture.verdict.startswith("RUNS OUT: Slip is 1 1/4 in short at 8 in droop")
    assert any(line.startswith("Slip: ") for line in picture.lines)
    assert all(len(line) <= WIDTH for line in picture.shaft.lines)


def test_a_mesh_that_is_no_box_or_bar_is_refused_without_its_surface() -> None:
    scan: Mesh = box((0, 0, 0), (10, 20, 30), "scan")
    with pytest.raises(ValueError, match="no mesh to draw"):
        thing_part(0, Thing("guard", Triangles(scan.triangles)))


def test_things_in_the_rig_file_are_all_drawn() -> None:
    rig = changed(parse_rig(COORDINATES), {"surroundings[1].name": "tank"})
    around = nearby(rig, vehicle_of(rig), AT)
    assert [part.name for part in around.things] == ["tank"]
