"""The close-up in verbs: the cut, the place in it, its words, and how calm it stays."""

import json
from dataclasses import replace
from itertools import pairwise
from math import cos, radians

import manifold3d
import numpy as np
import pytest
import trimesh

from sim.check import check
from sim.pose import check_pose
from sim.rig import changed, load_demo
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS, Scripted, checked, out_of_reach
from tests.viewer.subjects import grey
from viewer.draw.camera import Camera
from viewer.draw.verdict_mark import RED
from viewer.live.closeup.eye import SPANS
from viewer.live.closeup.metal import CENTRE, PIECES, YOKES, cut_open, overlap_of
from viewer.live.closeup.sheet import free
from viewer.live.scene import LiveScene
from viewer.pose.export import export_pose
from viewer.scene.closeup import STEPS
from viewer.scene.section import hatch_common
from viewer.session.charts.turn_strip import StripWork
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.told.state_words import turn_words
from viewer.words.captions import scale_caption, short_length

TOUCHING = (
    ("long-legged-trail-wagon", "pinion"),
    ("long-legged-trail-wagon", "output"),
    ("marsh-runner", "pinion"),
)
OTHERS = (
    ("short-tailed-scout", "output"),
    ("timber-crew-carrier", "middle"),
    ("heather-moor-scout", "pinion"),
    ("quarry-hauler", "pinion"),
)


def scene_of(session, size=(1000, 640)) -> LiveScene:
    """The scene of a session, with all its parts there."""
    return settled(LiveScene(RecordingStage(size), session))


def go(session, scene, joint, share=1.0, spin=None) -> float:
    """Go to a share of the way to the worst pose of a joint, turned to where it is tightest."""
    session.choose(joint)
    at = session.check.joints[joint].sweep.most.at
    if spin is None:
        spin = StripWork(session.check, joint, at, spins=360).strip.tightest.spin
    way = {key: share * getattr(at, key) for key in ("travel", "roll", "wrap")}
    session.motion.go(**way, spin=spin)
    scene.posed()
    while scene.work():
        pass
    return spin


def page_of(scene) -> RecordingStage:
    return scene.stage.second


def cut_of(scene):
    page = page_of(scene)
    return cut_open(scene.closeup.meeting, page.camera, page.region)


def exported(found, tmp_path, camera: Camera):
    """The meshes that a pose exports, in manifold3d, as a camera sees them, by name of the part."""
    export_pose(found, found.rig, tmp_path)
    solids = {}
    parts = json.loads((tmp_path / "poses.json").read_text())["parts"]
    for name, part in parts.items():
        mesh = trimesh.load(tmp_path / part["file"])
        X_CP = np.array(part["X_CP"])
        seen = (mesh.vertices @ X_CP[:3, :3].T + X_CP[:3, 3] - camera.focus) @ camera.R_VC.T
        solid = manifold3d.Manifold(
            manifold3d.Mesh64(np.ascontiguousarray(seen), mesh.faces.astype(np.uint64))
        )
        assert solid.status() == manifold3d.Error.NoError
        solids[name] = X_CP, solid
    return solids


def of_bodies(scene, solids):
    """Those of the two that meet, told by where they stand."""
    meeting = scene.closeup.meeting
    for key in meeting.pair:
        X = meeting.bodies[key].X_CP
        (solid,) = [
            each
            for name, (X_CP, each) in solids.items()
            if name.endswith(("yoke", "cross")) and np.allclose(X_CP, X, rtol=0.0, atol=1e-6)
        ]
        yield solid


def area(outlines, px_per_mm: float) -> float:
    """What lies inside of all outlines, px, as mm2, summed up line by line."""
    pitch = 0.05
    lines = hatch_common(outlines, 0.0, pitch)
    return float(np.linalg.norm(lines[:, 1] - lines[:, 0], axis=1).sum()) * pitch / px_per_mm**2


def apart(one, other) -> float:
    """Least distance between the corners of one section and the sides of another, both ways."""
    least = np.inf
    for a, b in ((one, other), (other, one)):
        points = np.concatenate(a.to_polygons())
        for ring in b.to_polygons():
            start, way = ring, np.roll(ring, -1, axis=0) - ring
            off = points[:, None] - start
            share = np.clip((off * way).sum(-1) / np.maximum((way**2).sum(-1), 1e-12), 0.0, 1.0)
            least = min(least, float(np.linalg.norm(off - share[..., None] * way, axis=-1).min()))
    return least


@pytest.mark.parametrize(("name", "joint"), TOUCHING)
def test_the_cut_and_the_metal_in_metal_are_those_of_the_exported_meshes(
    open_rig, tmp_path, name, joint
) -> None:
    session = open_rig(name)
    scene = scene_of(session)
    go(session, scene, joint)
    page, meeting = page_of(scene), scene.closeup.meeting
    found = check_pose(checked(name).rig, session.now.at, session.now.spin)
    solids = list(of_bodies(scene, exported(found, tmp_path, page.camera)))
    (one, other), whole = [each.slice(0.0) for each in solids], solids[0] ^ solids[1]
    cut, px = cut_of(scene), page.camera.px_per_mm(page.region)
    # The file holds mm in single precision; lines that are summed up are 0.05 px apart.
    for key, section in zip(meeting.pair, (one, other), strict=True):
        assert area((cut.bodies[key][0],), px) == pytest.approx(section.area(), rel=2e-4)
    common = one ^ other
    assert common.area() > 0.1
    assert area(cut.both, px) == pytest.approx(common.area(), rel=2e-3)
    left, bottom, right, top = common.bounds()
    seen = overlap_of(cut).reshape(-1, 2) - page.region.middle
    mine = [*seen.min(axis=0) / px, *seen.max(axis=0) / px]
    np.testing.assert_allclose(mine, [left, bottom, right, top], rtol=0.0, atol=2e-3)
    # How deep: what a ruler along the way out reads over all the metal in common.
    measured = meeting.measured(scene.closeup.eye.toward)
    way = page.camera.R_VC @ meeting.across
    depths = [np.ptp(piece.to_mesh64().vert_properties[:, :3] @ way) for piece in whole.decompose()]
    assert any(deep == pytest.approx(measured.size, abs=5e-3) for deep in depths)
    assert f"{short_length(measured.size)} deep" in page.said()


@pytest.mark.parametrize(("name", "joint"), [*TOUCHING, *OTHERS])
def test_the_gap_is_that_of_the_pose_and_of_the_exported_meshes(
    open_rig, tmp_path, name, joint
) -> None:
    session = open_rig(name)
    scene = scene_of(session)
    spin = go(session, scene, joint)
    low, high = 0.0, 1.0
    if session.now.joints[joint].gap.overlaps:
        while high - low > 1e-3:
            middle = 0.5 * (low + high)
            go(session, scene, joint, middle, spin)
            is_near = session.now.joints[joint].gap.distance < 1.0
            low, high = (low, middle) if is_near else (middle, high)
        go(session, scene, joint, low, spin)
    found = check_pose(checked(name).rig, session.now.at, session.now.spin)
    gap = found.joints[joint].gap
    assert gap.distance > 0.0
    page = page_of(scene)
    assert short_length(gap.distance) in page.said()
    assert {"Gap", "Gap at this turn"} & set(page.said())
    solids = exported(found, tmp_path, page.camera)
    if scene.closeup.meeting.cross.name == "cross" and name != "short-tailed-scout":
        one, other = (each.slice(0.0) for each in of_bodies(scene, solids))
        assert apart(one, other) == pytest.approx(gap.distance, abs=2e-3)


@pytest.mark.parametrize(("name", "joint"), TOUCHING)
def test_the_place_of_a_touch_is_in_the_picture_and_at_least_a_tenth_of_it(
    open_rig, name, joint
) -> None:
    session = open_rig(name)
    scene = scene_of(session)
    for share in np.linspace(0.8, 1.0, 5):
        go(session, scene, joint, share)
        page, meeting = page_of(scene), scene.closeup.meeting
        if not meeting.gap.overlaps:
            continue
        rim = overlap_of(cut_of(scene)).reshape(-1, 2)
        drawn = [call.told["segments"] for call in page.of("stroke")]
        marks = np.concatenate([rim, *(each.reshape(-1, 2) for each in drawn if _red(each, page))])
        room = free(page.region).corners
        inside = marks[(marks >= room[0]).all(axis=1) & (marks <= room[1]).all(axis=1)]
        assert np.ptp(inside, axis=0).max() >= 0.1 * page.region.width
        middle = page.camera.project(meeting.measured(scene.closeup.eye.toward).at, page.region)
        np.testing.assert_array_less(
            np.abs(middle - free(page.region).middle) / page.region.width, 0.2
        )
    assert np.ptp(rim, axis=0).max() >= 0.1 * page.region.width


@pytest.mark.parametrize("name", sorted(path.stem for path in RIGS.glob("*.toml")))
def test_where_a_drive_stops_colour_and_words_are_those_of_the_pose(open_rig, name) -> None:
    """The verdict of the pose is found anew; the guide says that metal is within 0.1 mm there."""
    session = open_rig(name)
    scene = scene_of(session)
    for drive in session.binds:
        if drive.joint is None or drive.finding.verdict == "clear":
            continue
        session.show_me(drive.finding)
        while session.motion.playing:
            session.motion.advance(0.1)
        scene.posed()
        while session._to_measure:
            session.idle()
        scene.measured()
        while scene.work():
            pass
        joint, now = drive.joint, session.now
        posed = check_pose(checked(name).rig, now.at, now.spin).joints[joint]
        page, said = page_of(scene), scene.stage.things[f"{joint} words"].texts[0][0]
        meeting = scene.closeup.meeting
        told = scene.closeup._told(meeting, now.joints[joint])
        assert told.verdict == posed.verdict == drive.finding.verdict
        assert scene.marks[joint]._verdict == posed.verdict
        if posed.verdict != "touches":
            continue
        assert 0.0 < posed.gap.distance <= 0.1
        assert "Metal touches" in page.said()
        assert "Gap" not in page.said()
        assert said.endswith("metal touches at this turn")
        assert turn_words(session, joint).startswith("at this turn: metal touches, gap ")
        place = page.camera.project(meeting.spot.at, page.region)
        for verb in ("stroke", "area"):
            drawn = [
                call.told["segments" if verb == "stroke" else "triangles"].reshape(-1, 2)
                for call in page.of(verb)
                if (call.told["pen"].colour if verb == "stroke" else call.told["colour"]) == RED
            ]
            middles = [0.5 * (each.min(axis=0) + each.max(axis=0)) for each in drawn]
            assert any(np.allclose(each, place, rtol=0.0, atol=0.5) for each in middles)


def _red(segments, page) -> bool:
    return any(
        call.told["segments"] is segments and call.told["pen"].colour == RED
        for call in page.of("stroke")
    )


def test_the_picture_stays_calm_as_the_axle_goes_through_the_touch(open_rig) -> None:
    for name, joint in TOUCHING:
        session = open_rig(name)
        scene = scene_of(session)
        spin, seen, spans, pairs, places = None, [], [], [], []
        for share in np.linspace(0.35, 1.0, 31):
            spin = go(session, scene, joint, share, spin)
            page, closeup = page_of(scene), scene.closeup
            seen.append(closeup.eye.toward)
            spans.append(closeup.eye.across)
            pairs.append(closeup.meeting.pair)
            places.append(closeup.meeting.spot.at - closeup.meeting.frame.centre)
            place = page.camera.project(closeup.meeting.spot.at, page.region)
            assert free(page.region).corners[0][1] < place[1] < free(page.region).corners[1][1]
            assert 0.25 < place[0] / page.region.width < 0.75
        steps = [float(a @ b) for a, b in pairwise(seen)]
        assert min(steps) > cos(radians(15.0))
        assert set(spans) <= set(SPANS)
        assert sum(a != b for a, b in pairwise(spans)) <= 3
        assert len(set(pairs)) == 1
        assert max(np.linalg.norm(np.diff(places, axis=0), axis=1)) < 3.0, name


def test_showing_a_pose_again_leaves_the_picture_as_it_is(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    for share in (0.9, 1.0):
        go(session, scene, "pinion", share, spin=0.4)
    before = page_of(scene).camera
    for _ in range(6):
        scene.posed()
    after = page_of(scene).camera
    for what in ("toward", "focus", "up", "span"):
        np.testing.assert_array_equal(getattr(after, what), getattr(before, what))


def test_the_eye_looks_square_to_the_way_across_from_above_rather_than_below(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    for joint in ("pinion", "output"):
        go(session, scene, joint, 0.5)
        camera, meeting = page_of(scene).camera, scene.closeup.meeting
        assert camera.R_VC[2] @ meeting.across == pytest.approx(0.0, abs=1e-9)
        assert camera.depth(meeting.spot.at) == pytest.approx(0.0, abs=1e-6)
        ends = camera.depth(meeting.spot.places[:2])
        np.testing.assert_allclose(ends, 0.0, rtol=0.0, atol=1e-6)
        assert camera.R_VC[1] @ [0.0, 0.0, 1.0] > -0.4


@pytest.mark.parametrize(("name", "joint"), [*TOUCHING, *OTHERS])
def test_what_meets_is_named_beside_its_own_metal(open_rig, name, joint) -> None:
    session = open_rig(name)
    scene = scene_of(session)
    go(session, scene, joint)
    meeting, said = scene.closeup.meeting, page_of(scene).said()
    assert set(meeting.gap.surfaces) <= set(said)
    assert {f"of the {body}" for body in meeting.names} <= set(said)
    for key, body in zip(meeting.pair, meeting.gap.bodies, strict=True):
        own = meeting.cross.bodies()[body]
        np.testing.assert_array_equal(meeting.bodies[key].X_CP, own.X_CP)
        assert meeting.bodies[key].part is own.part, "of the cross where it meets"
    assert set(meeting.bodies) <= set(page_of(scene).things)
    for key, body in meeting.bodies.items():
        np.testing.assert_array_equal(page_of(scene).things[key].X_CP, body.X_CP)


def test_metal_is_told_apart_without_colour() -> None:
    dresses = [*YOKES, CENTRE]
    assert len({(dress.slant, dress.pitch) for dress in dresses}) == len(dresses)
    both = {(PIECES[name].slant, PIECES[name].pitch) for name in ("bolts", "straps")}
    assert len(both | {(dress.slant, dress.pitch) for dress in dresses}) == len(dresses) + 2
    for dress in dresses:
        assert grey(dress.colour) - grey(RED) > 0.4


def test_an_old_answer_is_grey_and_says_so(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    go(session, scene, "pinion")
    session.answers.mark_stale()
    scene.answered()
    page = page_of(scene)
    assert any("OLD ANSWER" in words for words in page.said())
    assert page.is_grey
    go(session, scene, "pinion", 0.5)
    assert page.is_grey


def test_another_joint_is_shown_at_once(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    assert scene.closeup.joint == session.strip_joint
    other = next(joint for joint in session.check.joints if joint != session.strip_joint)
    session.choose(other)
    scene.measured()
    assert scene.closeup.joint == other
    assert any(other in words.lower() for words in page_of(scene).said())
    while scene.work():
        pass
    assert set(page_of(scene).things) == set(scene.closeup.meeting.bodies)


def test_the_bar_is_as_long_as_its_words_say(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    go(session, scene, "pinion")
    page = page_of(scene)
    bars = [call.told["segments"] for call in page.of("stroke")]
    (bar,) = [each[0] for each in bars if each.shape == (3, 2, 2) and (each[0, :, 1] == 8.0).all()]
    long = float(bar[1, 0] - bar[0, 0]) / page.camera.px_per_mm(page.region)
    (size,) = [each for each in STEPS if scale_caption(each) in page.said()]
    assert long == pytest.approx(size, abs=1e-9)


def test_another_answer_puts_up_its_own_yokes_at_the_same_joint(open_rig, worker) -> None:
    session = open_rig("marsh-runner")
    scene = scene_of(session)
    session.choose("pinion")
    deep = {"shaft.pinion_end.shaft_yoke": "deep-throat weld yoke"}
    session.document.set(deep)
    worker.say(answer=check(changed(load_demo("marsh-runner"), deep)), share=1.0)
    session.tick()
    scene.answered()
    settled(scene)
    assert session.strip_joint == scene.closeup.joint == "pinion"
    own = session.check.joints["pinion"].hardware
    shown = [body.part for body in scene.closeup.meeting.bodies.values()]
    assert any(part is own.driving for part in shown)
    drawn = [m.vertices for m, *_ in page_of(scene).things["0 driving"].solids]
    wanted = [p.mesh.vertices for p in scene.closeup.meeting.bodies["0 driving"].shown()]
    assert [len(each) for each in drawn] == [len(each) for each in wanted]


def test_without_an_answer_and_out_of_reach_it_says_why(open_rig) -> None:
    session = Session(Document.open(RIGS / "long-legged-trail-wagon.toml"), Scripted())
    scene = LiveScene(RecordingStage((800, 600)), session)
    assert any("with the answer" in words for words in page_of(scene).said())
    session.close()
    session = open_rig()
    scene = scene_of(session)
    go(session, scene, "pinion")
    before = page_of(scene).camera
    session.now = out_of_reach(session.now)
    scene.posed()
    assert {"Out of reach", "shown: the last pose before it"} <= set(page_of(scene).said())
    assert page_of(scene).is_grey
    np.testing.assert_array_equal(page_of(scene).camera.focus, before.focus)
    go(session, scene, "pinion", 0.5)
    assert not page_of(scene).is_grey


@pytest.mark.parametrize("size", [(1600, 700), (500, 900), (320, 240)])
def test_shaft_and_close_up_share_the_stage(open_rig, size) -> None:
    scene = scene_of(open_rig(), size)
    stage = scene.stage
    own = stage.of("inset")[-1].told["region"]
    assert not stage.region.meets(own)
    assert stage.region.width * stage.region.height + own.width * own.height == size[0] * size[1]
    assert own.width * own.height >= 0.3 * size[0] * size[1]


def test_the_wheel_goes_nearer_and_the_place_stays(open_rig) -> None:
    session = open_rig()
    scene = scene_of(session)
    go(session, scene, "pinion")
    before = page_of(scene).camera
    scene.zoom_closeup(2.0)
    after = page_of(scene).camera
    assert after.span == pytest.approx(0.5 * before.span)
    assert pytest.approx(before.R_VC, abs=2e-2) == replace(after, span=1.0).R_VC
