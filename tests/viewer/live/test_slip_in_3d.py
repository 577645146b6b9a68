"""The slip as the stage shows it: every length is what the pose check says, at any pose.

Lengths are read from what stands on the stage, by the ends of its meshes as they were moved; what
they are held to comes from `sim`, as `pose --json` prints it, and from the rig's own numbers.
"""

import re
from dataclasses import replace
from math import inf, isinf

import numpy as np
import pytest

from sim.check import check
from sim.findings import judged
from sim.pose import check_pose
from tests.kept import kept
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS, Scripted, checked
from viewer.draw.camera import FORWARD
from viewer.live.scene import LiveScene
from viewer.live.sight import SLIP, views
from viewer.live.slip_marks import (
    APART,
    CLOSES,
    DRIVEN,
    ENGAGED,
    MISSING,
    OPENS,
    OPENS_WORDS,
    WORDS,
)
from viewer.scene.slip_place import slip_place
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.words.units import format_fraction_up

BUGGY, SCOUT, CARRIER = "goat-path-buggy", "short-tailed-scout", "timber-crew-carrier"
DEMOS = (BUGGY, SCOUT, CARRIER, "long-legged-trail-wagon", "ridge-crawler")
RIGS_TO_SEE = {
    "bottoms": (BUGGY, 'slip = { at = "output", closes = "1/4 in", opens = "1 3/4 in" }'),
    "bottoms apart": (
        BUGGY,
        'slip = { at = "output", closes = "1/4 in", opens = "2 in", comes_apart = "3 in" }',
    ),
    "parts": (
        SCOUT,
        'slip = { at = "shaft", closes = "2 in", opens = "1/8 in", comes_apart = "1/2 in" }',
    ),
    "no room": (
        SCOUT,
        'slip = { at = "shaft", closes = "9 in", opens = "9 in", comes_apart = "12 in" }',
    ),
    "unknown": (SCOUT, 'slip = { at = "shaft" }'),
    "half known": (SCOUT, 'slip = { at = "shaft", opens = "1/8 in" }'),
}


def text_of(name: str) -> str:
    """The text of a demo rig, with another slip where `RIGS_TO_SEE` has one."""
    rig, slip = RIGS_TO_SEE.get(name, (name, None))
    text = (RIGS / f"{rig}.toml").read_text(encoding="utf-8")
    return text if slip is None else re.sub(r"slip = \{.*\}", slip, text, count=1)


@kept
def answer(name: str):
    """The answer to one of the rigs above."""
    return check(Document(text_of(name)).rig)


@pytest.fixture
def stand():
    """Opens a rig in a scene, and closes it."""
    opened = []

    def opening(name: str):
        worker = Scripted()
        session = Session(Document(text_of(name)), worker)
        worker.say(answer=answer(name) if name in RIGS_TO_SEE else checked(name), share=1.0)
        session.tick()
        opened.append(session)
        return session, settled(LiveScene(RecordingStage((800, 600)), session))

    yield opening
    for session in opened:
        session.close()


def go(session, scene, **at):
    """Move the axle and the scene with it."""
    session.motion.go(**at)
    scene.posed()
    return session.now


def length(stage, name: str) -> float:
    """How long something on the stage is, mm; 0 where it is not to be seen."""
    ends = seen_ends(stage, name)
    return 0.0 if ends is None else float(np.linalg.norm(ends[1] - ends[0]))


def seen_ends(stage, name: str):
    """Where it begins and ends along its own x axis, (2, 3) mm in C; None where it is not seen."""
    thing = stage.things[name]
    if not thing.shown:
        return None
    points = [mesh.vertices for mesh, *_ in thing.solids]
    points += [lines.reshape(-1, 3) for lines, *_ in thing.segments]
    x = np.concatenate(points)[:, 0]
    axis = np.array([[x.min(), 0.0, 0.0], [x.max(), 0.0, 0.0]])
    return axis @ thing.X_CP[:3, :3].T + thing.X_CP[:3, 3]


@pytest.mark.slow
@pytest.mark.parametrize("name", [*DEMOS, *RIGS_TO_SEE])
def test_lengths_are_those_of_the_pose_check_at_any_pose(stand, name: str) -> None:
    session, scene = stand(name)
    stage, travel = scene.stage, session.check.derivation.vehicle.travel
    rng = np.random.default_rng(11)
    for _ in range(25):
        now = go(
            session,
            scene,
            travel=rng.uniform(-travel.droop, travel.bump),
            roll=rng.uniform(-0.05, 0.05),
            wrap=rng.uniform(-0.03, 0.03),
            spin=rng.uniform(0.0, 6.28),
        )
        if not now.reached:
            continue
        told = check_pose(now.rig, now.at, now.spin)
        assert now.closes_left == told.closes_left or abs(now.closes_left - told.closes_left) < 1e-9
        known = slip_place(
            session.check.derivation.vehicle,
            {j: each.hardware for j, each in session.check.joints.items()},
            (now.rig.shaft.tube.outside.mm, now.rig.shaft.tube.wall.mm),
        )
        for line, told_left, side in (
            (CLOSES, told.closes_left, known.has.sized.closes),
            (OPENS, told.opens_left, known.has.sized.opens),
        ):
            slip, left = float(told.state.line.slip), told_left
            if isinf(left):  # nobody measured it: as a generic one has it
                left = side + slip if line == CLOSES else side - slip
            assert length(stage, line) == pytest.approx(abs(left), abs=1e-6)
        over = [max(0.0, -left) for left in (told.closes_left, told.opens_left)]
        assert length(stage, DRIVEN) == pytest.approx(over[0], abs=1e-6)
        drawn = length(stage, MISSING) + length(stage, APART)
        if now.vehicle.slip.comes_apart is not None:
            assert drawn == pytest.approx(over[1], abs=1e-6)


@pytest.mark.parametrize("name", [BUGGY, "parts"])
def test_what_is_missing_is_red_before_all_else_and_reads_as_the_finding(stand, name: str) -> None:
    session, scene = stand(name)
    finding = next(
        each
        for each in session.check.findings
        if each.code == "slip-opens" and each.verdict == "touches"
    )
    go(session, scene, travel=finding.at.travel, roll=finding.at.roll, wrap=finding.at.wrap)
    things = scene.stage.things
    short = -finding.margin.value
    assert length(scene.stage, OPENS) == pytest.approx(short, abs=1e-3)
    assert format_fraction_up(short) in things[OPENS_WORDS].texts[0][0]
    worst = [each for each in session.check.findings if each.code == "slip-comes-apart"]
    said = -worst[0].margin.value if worst else short
    assert format_fraction_up(said) in things[WORDS].texts[0][0]
    solids = things[MISSING].solids
    assert all(on_top for *_, on_top in solids)
    assert all(paint.colour[0] > 2.0 * max(paint.colour[1:]) for _, paint, _ in solids)
    assert things[MISSING].segments, "it is hatched"


def test_apart_the_halves_stand_as_far_from_each_other_as_the_red_between_them(stand) -> None:
    session, scene = stand("parts")
    now = go(session, scene, travel=-127.0)
    gap = -now.opens_left - (now.vehicle.slip.comes_apart - now.vehicle.slip.opens)
    assert gap > 5.0
    assert length(scene.stage, APART) == pytest.approx(gap, abs=1e-6)
    assert length(scene.stage, ENGAGED) == 0.0
    along = now.state.line.shaft_axis_C
    parts = scene.bodies.parts
    far = [
        (mesh.vertices @ (X := scene.stage.things[name].X_CP)[:3, :3].T + X[:3, 3]) @ along
        for name in ("slip sleeve", "slip stub")
        for mesh, _ in parts[name].meshes
    ]
    assert far[1].min() - far[0].max() == pytest.approx(gap, abs=1e-6)
    assert "comes apart" in scene.stage.things[WORDS].texts[0][0]


@pytest.mark.parametrize("name", [BUGGY, SCOUT])
def test_the_colour_lies_on_the_spline_that_is_in_its_bore(stand, name: str) -> None:
    """Its ends against the meshes of the two halves themselves."""
    session, scene = stand(name)
    stage, parts = scene.stage, scene.bodies.parts
    inner, outer = (
        ("output spline", "barrel of the output yoke")
        if name == BUGGY
        else ("slip stub", "slip sleeve")
    )
    for travel in (0.0, -60.0, 40.0):
        go(session, scene, travel=travel, spin=0.7)
        axis = stage.things[ENGAGED].X_CP[:3, 0] / np.linalg.norm(stage.things[ENGAGED].X_CP[:3, 0])
        start, end = (float(point @ axis) for point in seen_ends(stage, ENGAGED))
        reach = {}
        for part in (inner, outer):
            X = stage.things[part].X_CP
            reach[part] = np.concatenate(
                [(mesh.vertices @ X[:3, :3].T + X[:3, 3]) @ axis for mesh, _ in parts[part].meshes]
            )
        assert start == pytest.approx(reach[inner].min(), abs=1e-6)
        ends = [reach[outer].max()]
        if name == SCOUT:  # its teeth may lie inside altogether
            place = slip_place(
                session.check.derivation.vehicle,
                {j: each.hardware for j, each in session.check.joints.items()},
                (session.now.rig.shaft.tube.outside.mm, session.now.rig.shaft.tube.wall.mm),
            )
            ends.append(start + place.shape.spline_length)
        assert end == pytest.approx(min(ends), abs=1e-6)


@pytest.mark.parametrize("name", [*DEMOS[:3], "bottoms", "half known"])
def test_the_colour_is_of_the_verdict_and_its_shape_says_it_again(stand, name: str) -> None:
    session, scene = stand(name)
    lines = {"clear": 0, "close": 1, "touches": 2}
    seen = {}
    travel = session.check.derivation.vehicle.travel
    for height in np.linspace(-travel.droop, travel.bump, 15):
        now = go(session, scene, travel=float(height))
        verdict = judged(now.slip_left, now.rig.wanted.slip.mm)
        (_, paint, _), *_ = scene.stage.things[ENGAGED].solids
        assert paint.colour == scene.look.verdicts[verdict]
        seen[verdict] = [len(each) for each, *_ in scene.stage.things[ENGAGED].segments]
        for line, left in ((CLOSES, now.closes_left), (OPENS, now.opens_left)):
            own = None if isinf(left) else judged(left, now.rig.wanted.slip.mm)
            colour = scene.look.neutral if own is None else scene.look.verdicts[own]
            *_, (_, pen, _) = scene.stage.things[line].segments
            assert pen.colour == colour, "each way by what is left that way"
    shapes = [tuple(seen[verdict]) for verdict in sorted(seen, key=lines.get)]
    assert len(set(shapes)) == len(shapes)
    assert seen.get("clear", []) == []


@pytest.mark.parametrize("name", [BUGGY, "bottoms apart", "parts"])
def test_what_is_engaged_is_what_is_left_until_it_comes_apart(stand, name: str) -> None:
    """From the rig's own numbers: none where it parts, and no more than its bore is deep."""
    session, scene = stand(name)
    travel, slip = session.check.derivation.vehicle.travel, session.now.vehicle.slip
    for height in np.linspace(-travel.droop, travel.bump, 9):
        now = go(session, scene, travel=float(height))
        opened = float(now.state.line.slip)
        engaged = min(max(0.0, slip.comes_apart - opened), slip.comes_apart + slip.closes)
        if name == "parts":  # its teeth are no longer than that
            engaged = min(engaged, slip.comes_apart)
        assert length(scene.stage, ENGAGED) == pytest.approx(engaged, abs=1e-6)


def test_a_slip_that_has_no_room_between_the_yokes_is_told_and_looked_at_all_the_same(
    stand,
) -> None:
    session, scene = stand("no room")
    assert any(each.code == "no-room-for-slip" for each in session.check.findings)
    assert "slip sleeve" not in scene.stage.things
    now = go(session, scene, travel=-100.0)
    assert length(scene.stage, OPENS) == pytest.approx(abs(now.opens_left), abs=1e-6)
    scene.look_at(SLIP)
    assert scene.sight.on == SLIP


def test_exactly_at_the_limit_it_has_run_out_and_nothing_is_missing(stand, monkeypatch) -> None:
    session, scene = stand(BUGGY)
    slip = session.now.vehicle.slip
    for opened, words, none in ((slip.opens, "runs out", OPENS), (-slip.closes, "bottoms", CLOSES)):
        state = session.now.state
        line = replace(state.line, slip=np.array(opened))
        monkeypatch.setattr(session, "now", replace(session.now, state=replace(state, line=line)))
        scene.posed()
        assert words in scene.stage.things[WORDS].texts[0][0]
        assert length(scene.stage, none) <= 1e-6
        assert length(scene.stage, MISSING) == length(scene.stage, DRIVEN) == 0.0


def test_a_slip_that_nobody_measured_has_no_verdict_and_says_so(stand) -> None:
    session, scene = stand("unknown")
    go(session, scene, travel=-127.0)
    assert scene.stage.things[WORDS].texts[0][0] == "slip not measured"
    (_, paint, _), *_ = scene.stage.things[ENGAGED].solids
    assert paint.colour not in scene.look.verdicts.values()
    assert length(scene.stage, MISSING) == length(scene.stage, DRIVEN) == 0.0


@pytest.mark.parametrize("opened", [-500.0, 500.0])
def test_past_the_ends_of_a_generic_slip_nothing_is_called_missing(opened: float) -> None:
    """Nothing is judged by what a slip has as a rule: it says that nobody measured it."""
    result = answer("unknown")
    tube = result.rig.shaft.tube
    place = slip_place(
        result.derivation.vehicle,
        {joint: each.hardware for joint, each in result.joints.items()},
        (tube.outside.mm, tube.wall.mm),
    )
    now = place.at(opened)
    assert not place.bottom < now.tip < place.limit
    for start, end in (now.missing, now.pulled, now.apart, now.driven_in):
        assert start == end
    assert now.telling == (now.tip, now.tip)
    assert (now.closes_left, now.opens_left, now.apart_by) == (inf, inf, None)


@pytest.mark.parametrize("name", [BUGGY, SCOUT, CARRIER, "parts"])
def test_the_view_of_the_slip_is_from_the_side_with_all_of_it(stand, name: str) -> None:
    session, scene = stand(name)
    go(session, scene, travel=-100.0, spin=1.0)
    assert SLIP in views(scene.vehicle)
    scene.look_at(SLIP)
    stage = scene.stage
    axis = scene.slip.frame[:3, 0]
    assert abs(stage.camera.R_VC[2] @ axis) < 1e-9
    assert abs(stage.camera.R_VC[2] @ FORWARD) < 0.6
    for mark in (ENGAGED, MISSING, CLOSES, OPENS):
        ends = seen_ends(stage, mark)
        if ends is not None:
            places = stage.project(ends)
            assert ((places > 0.0) & (places < stage.size)).all()
    wide = np.ptp(stage.project(scene.slip.ends)[:, 0]) / stage.size[0]
    assert 0.2 < wide < 0.8
    aside = stage.camera.focus - scene.slip.frame[:3, 3]
    go(session, scene, travel=-60.0)
    after = stage.camera.focus - scene.slip.frame[:3, 3]
    np.testing.assert_allclose(after, aside, rtol=0.0, atol=1e-6)
