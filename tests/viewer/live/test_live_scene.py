"""The live scene in verbs: built once, moved, marked, picked; no screen and no library."""

from math import radians

import numpy as np
import pytest

from sim.line import line
from sim.pose import check_pose
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS, Scripted, checked, out_of_reach
from viewer.draw.camera import VIEW_ANGLE
from viewer.live.ghost import CAPTION, SAYS
from viewer.live.looks import DARK
from viewer.live.notices import TO_COME
from viewer.live.patch import REACH, patches
from viewer.live.scene import LiveScene
from viewer.live.sight import views
from viewer.scene.build_joint import worst_gap
from viewer.scene.facts import size_words
from viewer.scene.joint_bodies import crosses_of, joint_frame
from viewer.scene.shaft_parts import shaft_hardware
from viewer.scene.spot import overlap
from viewer.session.session import Session
from viewer.session.text.document import Document

NAMES = ("long-legged-trail-wagon", "short-tailed-scout", "timber-crew-carrier", "ridge-crawler")


def settled(scene):
    """Do all that is due."""
    scene.answered()
    while scene.work():
        pass
    return scene


def measured(session, scene):
    """Find the gaps of this pose and what follows from them."""
    scene.posed()
    while session._to_measure:
        session.idle()
    scene.measured()
    while scene.work():
        pass


@pytest.fixture
def wagon(open_rig):
    session = open_rig()
    return session, settled(LiveScene(RecordingStage((800, 600)), session))


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_yoke_and_cross_is_where_the_pose_check_has_it(open_rig, name) -> None:
    session = open_rig(name)
    stage = RecordingStage((800, 600))
    scene = settled(LiveScene(stage, session))
    session.motion.go(travel=-40.0, wrap=radians(1.0), roll=radians(2.0), spin=0.8)
    scene.posed()
    found = check_pose(checked(name).rig, session.now.at, session.now.spin)
    bodies = shaft_hardware({joint: each.hardware for joint, each in found.joints.items()})
    assert set(bodies) <= set(stage.things)
    for part in bodies:
        X_CP = found.state.X_C[part]
        np.testing.assert_allclose(stage.things[part].X_CP, X_CP, rtol=0.0, atol=1e-9)


def test_moving_builds_nothing(wagon) -> None:
    session, scene = wagon
    stage = scene.stage
    before = len(stage.calls)
    session.motion.go(travel=-30.0, spin=1.0)
    scene.posed()
    verbs = {call.verb for call in stage.calls[before:]}
    assert verbs <= {"move", "words", "show"}
    assert "move" in verbs


def test_the_chassis_stays_and_the_axle_goes(wagon) -> None:
    session, scene = wagon
    things = scene.stage.things
    case, housing = things["case"].X_CP.copy(), things["housing"].X_CP.copy()
    session.motion.go(travel=-100.0)
    scene.posed()
    np.testing.assert_array_equal(things["case"].X_CP, case)
    X_CA = session.now.state.X_C["housing"]
    np.testing.assert_allclose(things["housing"].X_CP, X_CA @ housing, rtol=0.0, atol=1e-9)


def test_before_there_is_an_answer_something_is_seen_and_moves() -> None:
    document = Document.open(RIGS / "long-legged-trail-wagon.toml")
    session = Session(document, Scripted())
    stage = RecordingStage((800, 600))
    scene = LiveScene(stage, session)
    while scene.work():
        pass
    assert {"tube", "axis", "case", "housing"} <= set(stage.seen())
    assert stage.camera is not None
    before = stage.things["housing"].X_CP.copy()
    session.motion.go(travel=-50.0)
    scene.posed()
    assert stage.things["housing"].X_CP[2, 3] == pytest.approx(before[2, 3] - 50.0, abs=5.0)
    session.close()


def test_the_answer_takes_the_place_of_the_first_picture() -> None:
    document = Document.open(RIGS / "long-legged-trail-wagon.toml")
    worker = Scripted()
    session = Session(document, worker)
    scene = LiveScene(RecordingStage((800, 600)), session)
    worker.say(answer=checked("long-legged-trail-wagon"), share=1.0)
    session.tick()
    settled(scene)
    assert "axis" not in scene.stage.things
    assert {"pinion yoke", "boot", "slip stub"} <= set(scene.stage.seen())
    session.close()


def test_as_long_as_parts_are_to_come_the_view_says_so() -> None:
    document = Document.open(RIGS / "long-legged-trail-wagon.toml")
    worker = Scripted()
    session = Session(document, worker)
    scene = settled(LiveScene(RecordingStage((800, 600)), session))
    assert any("come with the answer" in words for words in scene.stage.said())
    session.answers.cancel()
    scene.answered()
    assert any("no answer" in words for words in scene.stage.said())
    session.ask_again()
    scene.answered()
    assert any("come with the answer" in words for words in scene.stage.said())
    worker.say(answer=checked("long-legged-trail-wagon"), share=1.0)
    session.tick()
    scene.answered()
    while scene._building is not None:
        assert "building parts" in scene.stage.said()
        scene.work()
    assert not any("parts" in words or "answer" in words for words in scene.stage.said())
    session.close()


def test_a_touch_is_marked_by_words_shape_and_the_metal_in_common(wagon) -> None:
    session, scene = wagon
    session.motion.go(travel=-200.0)
    session.turn_to_tightest()
    measured(session, scene)
    assert session.gaps["pinion"].overlaps
    things = scene.stage.things
    assert any("metal in metal" in words for words in scene.stage.said())
    (common, paint, on_top), *_ = things["pinion bite"].solids
    assert on_top
    assert paint.colour[0] > 2.0 * max(paint.colour[1:])
    assert common.volume > 0.0
    # A ring with four ticks: more segments than the plain ring of a clear joint.
    ring, _, in_front = things["pinion spot"].segments[0]
    assert not in_front
    assert len(ring) == 96 + 4
    # Each body is marked on its own skin, with a hatching.
    assert len(things["pinion patch"].solids) >= 1
    assert any(len(lines) for lines, _, _ in things["pinion patch"].segments)


def test_the_gap_line_runs_between_the_nearest_points(wagon) -> None:
    session, scene = wagon
    measured(session, scene)
    for joint in session.now.joints:
        gap = session.gaps[joint]
        assert not gap.overlaps
        thing = scene.stage.things[f"{joint} gap"]
        ends = thing.segments[0][0][0] @ thing.X_CP[:3, :3].T + thing.X_CP[:3, 3]
        assert np.linalg.norm(ends[1] - ends[0]) == pytest.approx(gap.distance, abs=1e-6)
        near = scene.marks[joint]
        assert np.linalg.norm(ends - near.frame.centre, axis=1).max() < 1.5 * near.reach


@pytest.mark.parametrize("travel", [0.0, -200.0])
def test_what_metal_hides_of_the_tightest_place_is_faint_and_dashed(wagon, travel: float) -> None:
    session, scene = wagon
    session.motion.go(travel=travel)
    session.turn_to_tightest()
    measured(session, scene)
    things, marks = scene.stage.things, scene.marks["pinion"]
    behind = [name for name in things if name.endswith(" behind")]
    assert behind
    for name in behind:
        bright, faint = things[name.removesuffix(" behind")], things[name]
        assert not any(on_top for *_, on_top in (*bright.segments, *bright.solids))
        assert all(on_top for *_, on_top in faint.segments)
        assert faint.opacity < 0.7 <= bright.opacity
        inked = [
            np.linalg.norm(np.diff(each, axis=1), axis=-1).sum() for each, *_ in faint.segments
        ]
        assert (
            max(inked) < 0.8 * np.linalg.norm(np.diff(bright.segments[0][0], axis=1), axis=-1).sum()
        )
    if "pinion spot" in things:  # seen on one place, the bright one nearer to the eye
        sight = scene.sight
        rings = [things[name].X_CP[:3, 3] for name in ("pinion spot", "pinion spot behind")]
        np.testing.assert_allclose(rings[1], marks.spot, rtol=0.0, atol=1e-9)
        away = 0.5 * sight.camera.span / np.tan(0.5 * VIEW_ANGLE)
        eye = sight.camera.focus + away * sight.camera.R_VC[2]
        rays = [eye - ring for ring in rings]
        near, far = (float(np.linalg.norm(ray)) for ray in rays)
        assert near < far
        np.testing.assert_allclose(rays[0] / near, rays[1] / far, rtol=0.0, atol=1e-9)


def test_the_metal_in_common_lies_in_both_and_patches_on_the_skin() -> None:
    result = checked("long-legged-trail-wagon")
    joint, vehicle = result.joints["pinion"], result.derivation.vehicle
    gap = worst_gap(joint)
    assert gap.overlaps
    frame = joint_frame(vehicle, line(vehicle, 0.0, 0.0, 0.0), "pinion")
    (cross,) = crosses_of(frame, joint.hardware, gap)
    common = overlap(*cross.meeting(gap))
    low, high = common.bounds
    assert ((high - low) < 60.0).all()
    for patch in patches(cross.meeting(gap), gap.surfaces, gap.points):
        away = np.linalg.norm(patch.vertices[:, None] - gap.points, axis=-1).min(axis=1)
        assert away.max() < REACH + 2.5


@pytest.mark.parametrize("name", NAMES)
def test_every_view_shows_its_subject(open_rig, name) -> None:
    session = open_rig(name)
    scene = settled(LiveScene(RecordingStage((800, 600)), session))
    for view in views(scene.vehicle):
        scene.look_at(view)
        camera = scene.stage.camera
        assert np.isfinite([*camera.focus, *camera.toward, camera.span]).all()
        if view in scene.marks:
            marks = scene.marks[view]
            assert np.linalg.norm(camera.focus - marks.frame.centre) < marks.reach


def test_the_eye_stays_on_the_joint(wagon) -> None:
    session, scene = wagon
    scene.look_at("pinion")
    aside = scene.stage.camera.focus - scene.marks["pinion"].frame.centre
    toward = scene.stage.camera.toward
    session.motion.go(travel=-90.0, spin=2.0)
    scene.posed()
    after = scene.stage.camera.focus - scene.marks["pinion"].frame.centre
    np.testing.assert_allclose(after, aside, rtol=0.0, atol=1e-6)
    np.testing.assert_array_equal(scene.stage.camera.toward, toward)


def test_parts_are_hidden_and_seen_through_and_stay_so(wagon) -> None:
    _, scene = wagon
    scene.bodies.fade("housing", 0.0)
    scene.bodies.fade("tube", 0.25)
    scene.dress(DARK)
    settled(scene)
    assert "housing" not in scene.stage.seen()
    assert scene.stage.things["tube"].opacity == 0.25
    listed = {part.name: opacity for part, opacity in scene.bodies.listed()}
    assert listed["housing"] == 0.0
    assert listed["tube"] == 0.25


def test_names_of_things_take_on_another_look_too(wagon) -> None:
    """Once they kept light paper in the dark, since nothing of the thing itself was another."""
    _, scene = wagon
    before = len(scene.stage.calls)
    scene.dress(DARK)
    settled(scene)
    told = [call for call in scene.stage.calls[before:] if call.verb == "words"]
    assert "crossmember" in [call.told["text"] for call in told]


def test_a_part_tells_its_dimensions_in_the_units_of_a_shop(wagon) -> None:
    _, scene = wagon
    facts = scene.bodies.facts("pinion yoke")
    assert facts.kind == "strap yoke"
    rows = dict(facts.rows)
    assert rows["bore"] == "1 1/16 in (27.0 mm)"
    assert "throat depth" in rows
    lengths = [said for said in rows.values() if said.endswith(" mm)")]
    for said in lengths:
        small = float(said.split("(")[1].split(" ")[-2]) < 25.4
        assert small == ("." in said.split("(")[0]), "no sixteenths under an inch"
    assert any("/" in said for said in lengths)
    assert any("/" not in said for said in lengths)
    assert scene.bodies.facts("no such part") is None
    assert all(part.title and part.title == part.title.strip() for part, _ in scene.bodies.listed())


@pytest.mark.parametrize(
    ("mm", "said"),
    [
        (55.6, "2 3/16 in (55.6 mm)"),
        (25.4, "1 in (25.4 mm)"),
        (7.1, "0.28 in (7.1 mm)"),
        (1.5, "0.059 in (1.50 mm)"),
    ],
)
def test_sizes_under_an_inch_are_told_in_decimals(mm: float, said: str) -> None:
    assert size_words(mm) == said


@pytest.mark.slow
def test_every_yoke_and_cross_has_a_title_of_its_own(open_rig) -> None:
    for name in NAMES:
        scene = settled(LiveScene(RecordingStage((800, 600)), open_rig(name)))
        titles = [part.title for part, _ in scene.bodies.listed()]
        assert len(titles) == len(set(titles))


def test_the_version_put_aside_is_a_ghost_only_where_it_differs(wagon) -> None:
    session, scene = wagon
    session.put_aside()
    scene.compared()
    settled(scene)
    ghosts = [name for name in scene.stage.things if name.startswith("before: ")]
    assert ghosts
    assert not [name for name in scene.stage.seen() if name in ghosts]
    assert SAYS not in scene.stage.said()
    session.other = type(session.other)("before", "", checked("ridge-crawler"))
    scene.compared()
    settled(scene)
    seen = [name for name in scene.stage.seen() if name.startswith("before: ")]
    assert "before: pinion yoke" in seen
    assert scene.stage.said().count(SAYS) == 1
    middle = scene.stage.things[CAPTION].X_CP[:3, 3].copy()
    session.motion.go(travel=-40.0)
    scene.posed()
    assert not np.allclose(scene.stage.things[CAPTION].X_CP[:3, 3], middle)
    scene.look_at("pinion")  # close up it is on a part that is seen there
    away = scene.stage.things[CAPTION].X_CP[:3, 3] - scene.stage.camera.focus
    assert np.linalg.norm(away) < scene.stage.camera.span
    scene.dress(DARK)
    settled(scene)
    assert scene.stage.said().count(SAYS) == 1
    session.drop_other()
    scene.compared()
    assert not [name for name in scene.stage.things if name.startswith("before")]


@pytest.mark.parametrize("rig", ["long-legged-trail-wagon", "short-tailed-scout"])
def test_what_was_measured_in_another_pose_is_not_shown(open_rig, rig: str) -> None:
    session = open_rig(rig)
    scene = settled(LiveScene(RecordingStage((800, 600)), session))
    measured(session, scene)
    assert any("gap" in text for text in scene.stage.said())
    session.motion.go(travel=-40.0, spin=0.4)
    scene.posed()
    told = [text for text in scene.stage.said() if "joint" in text]
    assert told
    assert not any("gap" in text or "metal" in text for text in told)
    assert not any(name.endswith((" gap", " patch", " spot")) for name in scene.stage.things)
    measured(session, scene)
    scene.posed()  # the same pose again
    assert any("gap" in text for text in scene.stage.said())


def test_out_of_reach_everything_stays_where_it_was(wagon, monkeypatch) -> None:
    session, scene = wagon
    before = scene.stage.things["housing"].X_CP.copy()
    monkeypatch.setattr(session, "now", out_of_reach(session.now))
    scene.posed()
    scene.measured()
    np.testing.assert_array_equal(scene.stage.things["housing"].X_CP, before)
    told = [text for text in scene.stage.said() if "out of reach" in text]
    assert len(told) == 1
    assert "pinion ring" not in scene.stage.things
    monkeypatch.undo()
    scene.posed()
    assert not [text for text in scene.stage.said() if "out of reach" in text]
    assert "pinion ring" in scene.stage.things


def test_all_lengths_of_a_spring_are_one_part(wagon) -> None:
    _, scene = wagon
    name = "left spring fixed eye"
    lengths = [part.name for part in scene.bodies.parts.values() if part.whole == name]
    assert len(lengths) > 2
    assert [part.name for part, _ in scene.bodies.listed()].count(name) == 1
    assert len({part.title for part, _ in scene.bodies.listed() if "spring" in part.name}) == 4
    scene.bodies.fade(name, 0.0)
    assert not set(lengths) & set(scene.stage.seen())
    scene.bodies.fade(name, 1.0)
    scene.bodies.fade(name, 0.25)
    assert {scene.stage.things[each].opacity for each in lengths} == {0.25}


def test_links_reach_from_chassis_to_axle(open_rig) -> None:
    session = open_rig("ridge-crawler")
    scene = settled(LiveScene(RecordingStage((800, 600)), session))
    session.motion.go(travel=-80.0, roll=radians(4.0))
    scene.posed()
    axle = session.now.state.X_C["housing"]
    members = scene.vehicle.suspension.members
    for member in members:
        X = scene.stage.things[f"link {member.name}"].X_CP
        np.testing.assert_allclose(X[:3, 3], member.chassis, rtol=0.0, atol=1e-9)
        length = np.linalg.norm(np.subtract(member.chassis, member.axle))
        end = axle[:3, :3] @ np.array(member.axle) + axle[:3, 3]
        np.testing.assert_allclose(X[:3, 3] + length * X[:3, 0], end, rtol=0.0, atol=0.01)


def test_an_old_answer_is_said_at_the_upper_edge_of_every_view(wagon) -> None:
    session, scene = wagon
    assert "OLD ANSWER" not in scene.stage.said()
    session.document.set({"travel.droop": "nonsense"})
    scene.answered()
    assert "OLD ANSWER" in scene.stage.said()
    for view in views(scene.vehicle):
        scene.look_at(view)
        session.motion.go(travel=-50.0)
        scene.posed()
        at = scene.stage.project(scene.stage.things[TO_COME].X_CP[:3, 3])
        region = scene.stage.region
        assert at[0] == pytest.approx(region.middle[0], abs=1e-6)
        assert 0.9 * region.height < at[1] - region.bottom < region.height
    assert scene.stage.is_grey
    session.answers.state = "fresh"
    scene.answered()
    assert "OLD ANSWER" not in scene.stage.said()
    assert not scene.stage.is_grey


def test_closing_leaves_nothing(wagon) -> None:
    _, scene = wagon
    scene.close()
    assert scene.stage.closed
    assert not scene.stage.things


def test_a_view_chosen_while_parts_are_built_stays(open_rig) -> None:
    scene = LiveScene(RecordingStage((800, 600)), open_rig())
    scene.work()
    scene.look_at("pinion")
    settled(scene)
    assert scene.sight.on == "pinion"
