"""A joint taken apart on a stage that writes down: what is seen alone, what fades in, and where."""

from pathlib import Path

import numpy as np
import pytest

from geometry.clock import HOUR, apart, clock
from sim.assessment import Assessor
from sim.cocked import cocked
from sim.hardware.joint import joint_hardware
from sim.marks import Mark, marks_of
from sim.rig.demos import load_demo
from sim.seen.demos import load_demo as load_inspection
from tests.kept import kept
from tests.viewer.recording_stage import RecordingStage
from viewer.live.apart import LiveApart
from viewer.live.looks import DARK, LIGHT
from viewer.scene.apart import Place, taken_apart
from viewer.why.follow import TrunnionTold

RIGS = Path(__file__).parents[3] / "models" / "rigs"
BINDS, COCKED = "long-legged-trail-wagon", "timber-crew-carrier"


@kept
def met(name: str) -> tuple[Mark, ...]:
    """Where the metal of a demo's pinion joint meets."""
    return marks_of(Assessor().assess(load_demo(name)), "pinion").forced


def trunnions(name: str) -> tuple[TrunnionTold, ...]:
    found = cocked(load_demo(name), "pinion", load_inspection(name))
    return tuple(
        TrunnionTold(cap, found.at, each.map, each.corners) for cap, each in found.caps.items()
    )


@pytest.fixture
def stage() -> RecordingStage:
    return RecordingStage((1000, 700))


def shown(stage: RecordingStage, name: str = BINDS) -> LiveApart:
    live = LiveApart(stage, LIGHT)
    live.show(taken_apart(joint_hardware(load_demo(name), "pinion")))
    return live


@pytest.mark.slow
def test_marks_lie_on_the_metal_of_the_part_they_are_on(stage: RecordingStage) -> None:
    live = shown(stage)
    marks = met(BINDS)
    live.compute(marks, ())
    live.fade(1.0)
    assert live.apart is not None
    drawn = [name for name in stage.seen() if name.startswith("met ")]
    assert len(drawn) == len(marks)
    for number, mark in enumerate(marks):
        thing = stage.things[f"met {number}"]
        # Whatever came off its yoke took its marks along: the nearest metal is right under them.
        part = next(
            each for each in live.apart.parts if np.array_equal(each.X_CP, thing.X_CP)
            and np.linalg.norm(_own(each) - mark.patch.deepest, axis=1).min() < 6.0
        )  # fmt: skip
        assert part.table.startswith("yokes" if part.words == "" else "caps")


def _own(part: object) -> np.ndarray:
    return np.concatenate([piece.in_part.vertices for piece in part.pieces])  # type: ignore[attr-defined]


@pytest.mark.slow
def test_what_is_computed_fades_in_and_out(stage: RecordingStage) -> None:
    live = shown(stage)
    live.compute(met(BINDS), trunnions(BINDS))
    computed = [n for n in stage.things if n.startswith(("met ", "pressed "))]
    assert computed
    assert not set(computed) & set(stage.seen())
    live.fade(0.5)
    assert {stage.things[name].opacity for name in computed} == {0.5}
    assert set(computed) <= set(stage.seen())
    live.fade(0.0)
    assert not set(computed) & set(stage.seen())
    # The same answer once more is put up no second time.
    before = len(stage.calls)
    live.compute(met(BINDS), live._pressed)
    assert len(stage.calls) == before


@pytest.mark.slow
def test_seen_marks_and_computed_ones_share_the_clock_of_the_yoke(stage: RecordingStage) -> None:
    """A mark seen where one is computed is drawn within an hour and the patch's own width of it."""
    live = shown(stage)
    mark = next(each for each in met(BINDS) if each.patch.clock is not None and each.on == "end")
    assert mark.on == "end"
    assert mark.patch.clock is not None
    live.mark([(Place("end", mark.patch.surface, mark.patch.clock), False)])
    live.compute((mark,), ())
    assert live.apart is not None
    yoke = live.apart.named("yoke end")
    assert yoke is not None
    seen = stage.things["seen 1"].X_CP[:3, 3]
    own = (seen - yoke.X_CP[:3, 3]) @ yoke.X_CP[:3, :3]
    assert float(apart(clock(own), mark.patch.clock)) < HOUR


def test_pressure_lies_on_the_trunnions_where_the_needles_run(stage: RecordingStage) -> None:
    live = shown(stage, COCKED)
    found = trunnions(COCKED)
    live.compute((), found)
    live.fade(1.0)
    assert live.apart is not None
    radius = 0.5 * live.apart.hardware.cross_from.trunnion_diameter
    for each in found:
        part = live.apart.named(f"trunnion {each.cap}")
        assert part is not None
        skin = stage.things[f"pressed {each.cap}"].solids[0][0].vertices
        along = part.points @ _bore(live, each.cap)
        X = stage.things[f"pressed {each.cap}"].X_CP
        points = skin @ X[:3, :3].T + X[:3, 3]
        out = _bore(live, each.cap)
        height = points @ out
        # On the trunnion of that very cap: between its shoulder and its end, on its skin.
        assert height.min() > along.min() - 1.0
        assert height.max() < along.max() + 1.0
        off = np.linalg.norm(points - height[:, None] * out, axis=1)
        np.testing.assert_allclose(off, radius, rtol=0.0, atol=0.4)


def _bore(live: LiveApart, cap: str) -> np.ndarray:
    """Way out along the bore of a cap, from the pose of its yoke; ear a is on +y."""
    assert live.apart is not None
    side, _, ear = cap.partition("_")
    yoke = live.apart.named(f"yoke {side}")
    assert yoke is not None
    return np.asarray(yoke.X_CP[:3, 1] * (1.0 if ear == "a" else -1.0))


def test_one_thing_is_looked_at_alone_with_its_own_marks(stage: RecordingStage) -> None:
    live = shown(stage, COCKED)
    live.compute((), trunnions(COCKED))
    live.fade(1.0)
    live.mark([(Place("shaft", "throat", 0.0), False), (Place("end", "ear tip", 0.0), False)])
    live.look_into("end")
    assert {"yoke end", "seen 2"} <= set(stage.seen())
    assert not {"seen 1", "pressed end_a", "cap end_a", "yoke shaft"} & set(stage.seen())
    live.look_into("cross")
    assert {"cross", "trunnion end_a", "pressed end_a"} <= set(stage.seen())
    assert not {"seen 1", "seen 2", "yoke end", "cap end_a"} & set(stage.seen())
    live.home()
    assert {"seen 1", "seen 2", "yoke end", "cap end_a", "pressed end_a"} <= set(stage.seen())


def test_looking_into_a_yoke_ear_a_is_up_and_three_is_to_the_right(stage: RecordingStage) -> None:
    live = shown(stage)
    for what in ("shaft", "end"):
        live.look_into(what)  # type: ignore[arg-type]
        assert live.apart is not None
        part = live.apart.named(f"yoke {what}")
        assert part is not None
        right, up, toward = live.camera.R_VC
        assert up @ part.X_CP[:3, 1] > 0.95  # 12 is ear a, on +y
        assert right @ part.X_CP[:3, 2] > 0.9  # 3 is on +z
        assert toward @ part.X_CP[:3, 0] < -0.9  # from the cross, along the yoke's own shaft


def test_other_light_changes_no_place(stage: RecordingStage) -> None:
    live = shown(stage, COCKED)
    live.compute((), trunnions(COCKED))
    live.fade(1.0)
    live.choose("caps.end_a", "trunnion")
    before = {name: thing.X_CP for name, thing in stage.things.items()}
    live.dress(DARK)
    assert set(stage.things) == set(before)
    for name, X in before.items():
        np.testing.assert_array_equal(stage.things[name].X_CP, X)
