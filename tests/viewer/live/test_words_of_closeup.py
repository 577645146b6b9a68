"""The words in the close-up cover nothing they speak of, and each dot lies in its own metal.

Where a word stands is read off the recorded page: its plate is the last white rectangle under it.
"""

import manifold3d
import numpy as np
import pytest

from sim.check import Check, check
from sim.pose import check_pose
from sim.rig import load_rig
from sim.rig.change import changed
from sim.vehicle import RIDE
from tests.kept import kept
from tests.viewer.live.test_closeup import OTHERS, TOUCHING, cut_of, exported, go, page_of, scene_of
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS
from tests.viewer.session.test_beside import strapped
from viewer.draw.base import BLACK, WHITE
from viewer.draw.camera import Region
from viewer.live.closeup.metal import overlap_of
from viewer.live.closeup.sheet import free
from viewer.live.scene import LiveScene
from viewer.scene.section import clipped, within
from viewer.session.beside import Beside
from viewer.session.charts.turn_strip import verdict_here
from viewer.session.session import Version

SIZES = ((250, 540), (500, 180), (320, 400), (400, 640), (640, 800))
"""px of the close-up itself."""


def inset_of(size, monkeypatch):
    """Let the close-up have that size on a stage that is larger."""
    width, height = size
    monkeypatch.setattr(
        "viewer.live.closeup.closeup.shared",
        lambda *_, **__: (
            Region(0.0, float(height), width, 400.0),
            Region(0.0, 0.0, width, height),
        ),
    )


def plates(page) -> list[Region]:
    """Boxes of the words within the picture: white rectangles that hold words."""
    room = free(page.region)
    boxes = []
    for call in page.of("area"):
        if call.told["colour"] == WHITE and call.told["triangles"].shape == (2, 3, 2):
            corners = call.told["triangles"].reshape(-1, 2)
            box = Region.between(corners.min(axis=0), corners.max(axis=0))
            if room.grown(1.0).holds(box):
                boxes.append(box)
    spots = [call.told["at"] for call in page.of("write")]
    held = [box for box in boxes if any(box.holds(Region.around(np.array(at), 0)) for at in spots)]
    words = [at for at in spots if room.holds(Region.around(np.array(at), 0.0))]
    assert all(any(box.holds(Region.around(np.array(at), 0)) for box in held) for at in words)
    return held


def dots(page) -> list[np.ndarray]:
    """Where the lines of the names end."""
    return [
        call.told["segments"][0, 0]
        for call in page.of("stroke")
        if call.told["pen"].colour == BLACK and call.told["pen"].width == 10.0
    ]


@kept
def long_drop() -> Check:
    """A two-piece shaft whose axle drops so far that an ear tip bites into the middle flange."""
    edits = {
        "axle.pinion_joint": ["11 in", "0 in", "-1 in"],
        "travel.droop": "12 in",
        "shaft.slip.opens": "5 in",
        "shaft.slip.comes_apart": "7 in",
    }
    return check(changed(load_rig(RIGS / "timber-crew-carrier.toml"), edits))


def covered(scene) -> list[str]:
    """What words of the picture cover."""
    page, closeup = page_of(scene), scene.closeup
    boxes, camera, meeting = plates(page), page.camera, closeup.meeting
    found = []
    measured = meeting.measured(closeup.eye.toward)
    rim = overlap_of(cut_of(scene)).reshape(-1, 2) if meeting.gap.overlaps else np.empty((0, 2))
    drawn = [call.told["pen"].width for call in page.of("stroke")]
    for number, box in enumerate(boxes):
        low, high = box.corners
        for at in dots(page):
            if box.meets(Region.around(at, 6.5)):
                found.append("a dot")
        if measured.ends is not None:
            line = camera.project(measured.ends, page.region)[None]
            if len(clipped(line, low, high)):
                found.append("what is measured")
        is_small = len(rim) and np.ptp(rim, axis=0).max() < 0.5 * page.region.width
        if is_small and box.meets(Region.between(rim.min(axis=0), rim.max(axis=0))):
            found.append("the overlap")
        if 7.5 in drawn:  # a ring
            place = camera.project(measured.at, page.region)
            if box.meets(Region.around(place, 0.04 * page.region.width)):
                found.append("the ring")
        found += ["words" for other in boxes[:number] if box.meets(other)]
    return found


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("name", "joint"), TOUCHING)
def test_no_words_cover_what_they_speak_of(open_rig, monkeypatch, name, joint, size) -> None:
    inset_of(size, monkeypatch)
    session = open_rig(name)
    scene = scene_of(session)
    said = []
    for share in np.linspace(0.5, 1.0, 6):
        go(session, scene, joint, share)
        page = page_of(scene)
        assert page.size == size
        assert covered(scene) == []
        names = {*scene.closeup.meeting.gap.surfaces}
        said.append(len(names & {*page.said()}) == len(names))
    assert all(said)


def metal_of(key) -> str:
    """Which piece of metal a body is of: the halves of a center yoke are one."""
    return "center yoke" if key in ("0 driven", "1 driving") else key


@pytest.mark.parametrize("is_narrow", [False, True])
@pytest.mark.parametrize(("name", "joint"), [*TOUCHING, *OTHERS, ("", "middle")])
def test_each_dot_lies_in_the_metal_of_the_body_it_names_and_in_no_other(
    open_rig, worker, tmp_path, monkeypatch, name, joint, is_narrow
) -> None:
    if is_narrow:
        inset_of((250, 540), monkeypatch)
    session = open_rig(name or "timber-crew-carrier")
    if not name:
        worker.say(answer=long_drop(), share=1.0)
        session.tick()
    scene = scene_of(session)
    go(session, scene, joint)
    page, meeting = page_of(scene), scene.closeup.meeting
    found = check_pose(session.check.rig, session.now.at, session.now.spin)
    solids = exported(found, tmp_path, page.camera)
    px = page.camera.px_per_mm(page.region)
    inside = []
    for at in dots(page):
        middle = (at - page.region.middle) / px
        spot = manifold3d.CrossSection.square((0.02, 0.02), True).translate(tuple(middle))
        inside.append(
            [
                key
                for key, body in meeting.bodies.items()
                for end, (X_CP, solid) in solids.items()
                if end.endswith(("yoke", "cross"))
                and np.allclose(X_CP, body.X_CP, rtol=0.0, atol=1e-6)
                and (solid.slice(0.0) ^ spot).area() > 0.9 * spot.area()
            ]
        )
    assert len(inside) == 2
    own = [{metal_of(key) for key in each} for each in inside]
    assert sorted(map(sorted, own)) == sorted([metal_of(key)] for key in meeting.pair)


@pytest.mark.parametrize("size", [*SIZES, (380, 860)])
def test_no_dot_lies_on_a_ring_or_bolt_that_is_not_named(
    open_rig, worker, monkeypatch, size
) -> None:
    inset_of(size, monkeypatch)
    session = open_rig("timber-crew-carrier")
    worker.say(answer=long_drop(), share=1.0)
    session.tick()
    scene = scene_of(session)
    for joint in ("middle", "pinion"):
        for share in (0.7, 0.85, 1.0):
            go(session, scene, joint, share)
            cut, meeting = cut_of(scene), scene.closeup.meeting
            named = [
                cut.of(body, surface)[0]
                for body, surface in zip(meeting.pair, meeting.gap.surfaces, strict=True)
            ]
            pieces = [skin for skin, _ in cut.pieces.values() if len(skin)]
            others = [skin for skin in pieces if all(skin is not each for each in named)]
            for at in dots(page_of(scene)):
                assert sum(bool(within(at[None], skin)[0]) for skin in named) == 1
                assert not any(within(at[None], skin)[0] for skin in others)


def test_side_by_side_both_are_of_one_scale_the_coarser(open_rig, monkeypatch) -> None:
    session = open_rig("long-legged-trail-wagon")
    beside = Beside(session, Version("before", "", strapped()), RIDE, 0.0)
    scenes = [
        settled(LiveScene(RecordingStage((500, 400)), each)) for each in (session, beside.before)
    ]
    now, before = scenes
    session.choose("pinion")
    before.see_with(now)
    session.posed.connect(now.posed)
    beside.before.posed.connect(before.posed)
    # One of them was chosen for a larger place, and keeps to that.
    monkeypatch.setattr("viewer.live.closeup.eye.LEAST", 0.0)
    before.closeup.eye.across = 80.0
    both = set()
    for travel in (-40.0, -95.0, -180.0, -20.0):
        beside.go(travel=travel, wrap=-0.05)
        one, other = (page_of(scene) for scene in scenes)
        scales = [page.camera.px_per_mm(page.region) for page in (one, other)]
        assert scales[0] == pytest.approx(scales[1], rel=1e-9)
        wanted = [scene.closeup.eye.own_per_px for scene in scenes]
        both.add(wanted[0] == wanted[1])
        assert 1.0 / scales[0] == pytest.approx(max(wanted), rel=1e-9)
    before.zoom_closeup(2.0)
    scales = [page_of(scene).camera.span for scene in scenes]
    assert scales[0] == pytest.approx(scales[1], rel=1e-9)
    assert False in both
    beside.close()


def test_where_the_verdict_of_this_turn_is_another_than_that_of_the_pose_it_says_so(
    open_rig,
) -> None:
    session = open_rig()
    scene = scene_of(session)
    seen = set()
    for share, spin in ((0.5, 0.0), (0.5, 1.6), (0.6, 0.8), (0.7, 1.6)):
        go(session, scene, "pinion", share, spin)
        meeting = scene.closeup.meeting
        here = verdict_here(session.now.joints["pinion"], meeting.gap)
        differs = here != session.now.verdict
        assert any("at this turn" in text for text in page_of(scene).said()[-6:]) == differs
        seen.add(differs)
    assert seen == {True, False}
