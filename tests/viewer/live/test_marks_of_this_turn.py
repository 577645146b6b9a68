"""Whatever happens in whatever order, the marks are those of the pose and turn that are shown.

What they are held to is found anew from the pose itself: bend and turn of each joint, its gap, the
two points where it is least, and the verdict there.
"""

from math import degrees

import numpy as np
import pytest

from sim.hardware.head import cross_of
from tests.viewer.live.test_live_scene import settled
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.session.conftest import RIGS, Scripted, checked
from viewer.live.scene import LiveScene
from viewer.scene.joint_bodies import crosses_of, joint_frame
from viewer.session.charts.turn_strip import verdict_here
from viewer.session.session import Session
from viewer.session.text.document import Document

RINGS = {"clear": 96, "close": 64, "touches": 100}
"""Pieces of the ring that stands for each verdict."""


class Play:
    """A session and its scene, told as the window tells it, and what may happen to them."""

    def __init__(self, name: str, rng: np.random.Generator) -> None:
        self.worker, self.rng = Scripted(), rng
        self.session = Session(Document.open(RIGS / f"{name}.toml"), self.worker)
        self.worker.say(answer=checked(name), share=1.0)
        self.session.tick()
        self.scene = settled(LiveScene(RecordingStage((800, 600)), self.session))
        self.session.posed.connect(self.scene.posed)
        self.session.measured.connect(self.scene.measured)
        self.session.answered.connect(self.scene.answered)
        self.session.rig_changed.connect(self.scene.answered)

    def move(self) -> None:
        travel = self.session.check.derivation.vehicle.travel
        self.session.motion.go(
            travel=self.rng.uniform(-travel.droop, travel.bump),
            roll=self.rng.uniform(-0.06, 0.06),
            wrap=self.rng.uniform(-0.06, 0.06),
        )

    def turn(self) -> None:
        self.session.motion.go(spin=self.rng.uniform(0.0, 6.28))

    def tightest(self) -> None:
        self.session.turn_to_tightest()

    def idle(self) -> None:
        for _ in range(self.rng.integers(1, 4)):
            self.session.idle()

    def work(self) -> None:
        for _ in range(self.rng.integers(1, 30)):
            self.scene.work()

    def look(self) -> None:
        self.scene.look_at(self.rng.choice(["whole", "pinion", "output", "slip", "along"]))

    def edit(self) -> None:
        self.session.document.set({"travel.droop": f"{self.rng.integers(4, 8)} in"})

    def answer(self) -> None:
        if self.session.answers.is_computing:
            name = self.rng.choice(["long-legged-trail-wagon", "short-tailed-scout"])
            self.worker.say(answer=checked(name), share=1.0)
            self.session.tick()

    def everything(self) -> None:
        while self.session._to_measure:
            self.session.idle()
        while self.scene.work():
            pass


def held(play: Play) -> None:
    """Hold every mark to the pose as it is now."""
    session, scene = play.session, play.scene
    now, things = session.now, scene.stage.things
    vehicle = session.check.derivation.vehicle
    assert set(scene.marks) == set(session.check.joints)
    if not now.reached:
        assert not [name for name in things if name.endswith((" ring", " words", " gap", " spot"))]
        return
    for name, joint in now.joints.items():
        marks, frame = scene.marks[name], joint_frame(vehicle, now.state.line, name)
        np.testing.assert_allclose(
            things[f"{name} ring"].X_CP[:3, 3], frame.centre, rtol=0.0, atol=1e-9
        )
        said = things[f"{name} words"].texts[0][0]
        assert f"{degrees(joint.bend):.1f}" in said
        gap = session.gaps.get(name)
        if marks.gap is None:
            assert "metal" not in said
            assert "gap" not in said.replace("gap under", "")
            assert not {f"{name} {what}" for what in ("gap", "patch", "spot", "bite")} & set(things)
            continue
        fresh = joint.gap if gap is None else gap
        assert marks.gap.distance == pytest.approx(fresh.distance, abs=1e-9)
        assert marks.gap.overlaps == fresh.overlaps
        assert marks.gap.surfaces == fresh.surfaces
        verdict = verdict_here(joint)
        if fresh.overlaps:
            verdict = "touches"
        elif verdict == "touches" and fresh.distance > 0.1:
            verdict = "close"
        assert len(things[f"{name} ring"].segments[0][0]) == RINGS[verdict]
        X_CK = crosses_of(frame, joint.hardware, fresh)[cross_of(fresh)].X_CK
        ends = fresh.points @ X_CK[:3, :3].T + X_CK[:3, 3]
        if not fresh.overlaps and fresh.distance > 0.0:
            line = things[f"{name} gap"]
            drawn = line.segments[0][0][0] @ line.X_CP[:3, :3].T + line.X_CP[:3, 3]
            np.testing.assert_allclose(drawn, ends, rtol=0.0, atol=1e-6)
        if f"{name} bite" in things:
            assert fresh.overlaps
            low, high = (f(ends, axis=0) for f in (np.min, np.max))
            bite = things[f"{name} bite"]
            points = np.concatenate([mesh.vertices for mesh, *_ in bite.solids])
            points = points @ bite.X_CP[:3, :3].T + bite.X_CP[:3, 3]
            assert ((points.min(axis=0) < high + 25.0) & (points.max(axis=0) > low - 25.0)).all()


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_marks_are_of_this_pose_and_turn_after_anything(seed: int) -> None:
    rng = np.random.default_rng(seed)
    play = Play(["long-legged-trail-wagon", "short-tailed-scout"][seed % 2], rng)
    steps = [play.move, play.turn, play.tightest, play.idle, play.work, play.look]
    steps += [play.edit, play.answer, play.everything, play.everything]
    for number in range(60):
        step = steps[rng.integers(len(steps))]
        step()
        try:
            held(play)
        except AssertionError as wrong:
            raise AssertionError(f"after step {number}, {step.__name__}: {wrong}") from wrong
    play.session.close()
