"""The picture of a relief: what comes off is plain in colour and pattern, the wall in its place."""

from dataclasses import replace
from math import inf
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from PIL import Image

from geometry.relief import Cut
from sim.hardware.joint import joint_hardware
from sim.rig import parse_rig
from tests.sim.rigs import COORDINATES
from tests.simple_shapes import box
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.run_command import run
from viewer.draw.camera import Camera
from viewer.relief.picture import NothingGroundError, best_plan, relief_picture
from viewer.relief.text import wall_words
from viewer.scene.ground_yoke import GroundYoke
from viewer.scene.parts import MATERIALS, SceneError
from viewer.scene.relief import ANGLE, ReliefPicture, slanted
from viewer.scene.section import hatched
from viewer.written.picture import save_picture

BODY = box((-60, -30, -10), (0, 30, 10), "ear tip")
CHIPS = box((-40, -10, 10), (-20, 10, 12), "ear tip")


def cut(**changed: Any) -> Cut:
    """A block 20 mm thick off whose top 2 mm are ground."""
    made = Cut(
        volume=800.0, depth=2.0, deepest=np.array([-30.0, 0.0, 10.0]), wall=20.0, limit=4.8,
        thinnest=np.array([-30.0, 4.0, 10.0]), surfaces=("ear tip", "throat"),
        contact=BODY, body=BODY, chips=CHIPS,
    )  # fmt: skip
    return replace(made, **changed)


def yoke(**changed: Any):
    built = joint_hardware(parse_rig(COORDINATES), "pinion").driving
    return GroundYoke.of("shaft's weld yoke", built, cut(**changed))


def picture(*yokes) -> ReliefPicture:
    return ReliefPicture(
        yokes or (yoke(),), 4.8,
        headline="Grinding", lines=("Test wagon.",), caution="Ground metal",
    )  # fmt: skip


def drawn(subject: ReliefPicture) -> RecordingStage:
    stage = RecordingStage(subject.size)
    subject.draw(stage, stage.region)
    return stage


def test_the_wall_runs_from_the_ground_surface_straight_through() -> None:
    """Closed form: through a block 20 mm thick, and alike at the mirror images."""
    walls = yoke().walls
    assert len(walls) == 4
    np.testing.assert_allclose(np.linalg.norm(walls[:, 1] - walls[:, 0], axis=1), 20.0, atol=1e-9)
    here = walls[np.argmin(np.linalg.norm(walls[:, 0] - [-30.0, 4.0, 10.0], axis=1))]
    np.testing.assert_allclose(here, [[-30.0, 4.0, 10.0], [-30.0, 4.0, -10.0]], atol=1e-9)


def test_the_body_shown_is_the_ground_one() -> None:
    built = joint_hardware(parse_rig(COORDINATES), "pinion").driving
    meshes = [part.mesh for part in GroundYoke.of("weld yoke", built, cut()).parts]
    assert any(mesh is BODY for mesh in meshes)
    assert not any(mesh is built.parts["body"] for mesh in meshes)
    assert any(mesh is built.parts["caps"] for mesh in meshes)


def test_the_hatching_is_straight_even_and_on_the_metal() -> None:
    camera = Camera(np.zeros(3), np.array([0.3, -1.0, 0.6]), np.array([0.0, 0.0, 1.0]), 100.0)
    lines = hatched(CHIPS, slanted(camera), 1.5)
    seen = lines @ camera.R_VC.T
    along = seen[:, 1, :2] - seen[:, 0, :2]
    long = np.linalg.norm(along, axis=1) > 1e-6
    across = np.array([-np.sin(ANGLE), np.cos(ANGLE)])
    np.testing.assert_allclose(along[long] @ across, 0.0, atol=1e-9)
    rank = (seen[..., :2] @ across) / 1.5
    np.testing.assert_allclose(rank, np.round(rank), atol=1e-9)
    low, high = CHIPS.bounds
    onto = np.minimum(np.abs(lines - low), np.abs(lines - high)).min(axis=-1)
    np.testing.assert_allclose(onto, 0.0, atol=1e-9)
    assert len(np.unique(np.round(rank[:, 0]))) > 8


def test_what_comes_off_has_a_colour_and_lines_that_print() -> None:
    subject = picture()
    stage = drawn(subject)
    chips = [c for c in stage.of("solid") if c.told["mesh"] is CHIPS]
    assert [c.told["paint"] for c in chips] == [MATERIALS["chips"]]
    lines = [c for c in stage.of("lines") if c.told["name"] == "metal to grind away"]
    camera = stage.cameras["yoke 1"]
    pitch = 9.0 / camera.px_per_mm(stage.regions["yoke 1"])
    expected = hatched(CHIPS, slanted(camera), pitch)
    assert any(
        c.told["segments"].shape == expected.shape and np.allclose(c.told["segments"], expected)
        for c in lines
    )
    weights = [0.299, 0.587, 0.114]  # of ITU-R BT.601, from memory
    grey = {name: np.dot(MATERIALS[name].colour, weights) for name in ("chips", "light steel")}
    assert grey["light steel"] - grey["chips"] > 0.25
    assert grey["chips"] > 0.3  # so that black lines stay plain on it


def test_depth_wall_and_limit_are_said_in_both_units() -> None:
    said = drawn(picture()).said()
    assert {
        "Grinding", "Test wagon.", "shaft's weld yoke", "grind the ear tip and throat",
        "GRIND AWAY 0.079 in (2.0 mm)", "WALL LEFT 0.79 in (20 mm)",
        "0.189 in (4.8 mm) has to stay here", "metal to grind away", "Ground metal",
    } <= set(said)  # fmt: skip
    assert any(text.startswith("Cut through") for text in said)
    assert not any("thin to begin with" in text for text in said)
    assert (
        "thin to begin with, so under 0.189 in (4.8 mm)" in drawn(picture(yoke(limit=3.9))).said()
    )


def test_without_a_wall_near_the_cut_is_at_the_deepest_place() -> None:
    said = drawn(picture(yoke(wall=inf))).said()
    assert any(text.startswith("Cut through") for text in said)
    assert not any("WALL" in text for text in said)


def test_two_yokes_stand_one_above_the_other() -> None:
    stage = drawn(picture(yoke(), replace(yoke(), name="pinion yoke")))
    upper, lower = stage.regions["yoke 1"], stage.regions["yoke 2"]
    assert upper.bottom > lower.top
    assert {"shaft's weld yoke", "pinion yoke"} <= set(stage.said())
    for call in stage.of("write"):
        x, y = call.told["at"]
        assert 0.0 <= x <= stage.size[0]
        assert 0.0 <= y <= stage.size[1]


def test_a_picture_of_nothing_is_refused() -> None:
    with pytest.raises(SceneError, match="nothing is ground"):
        ReliefPicture((), 4.8, headline="x")
    plan = SimpleNamespace(stop=None, reached=0.4, volume=0.0, cuts={})
    found: Any = SimpleNamespace(plans=(plan,), before=0.4, wanted=0.5, least_wall=4.8)
    hardware = joint_hardware(parse_rig(COORDINATES), "pinion")
    with pytest.raises(NothingGroundError, match="gains nothing at the pinion joint"):
        relief_picture("Test wagon", hardware, found)


def test_the_plan_shown_reaches_the_bend_with_least_off_or_gains_most() -> None:
    def plan(stop, reached, volume):
        return SimpleNamespace(stop=stop, reached=reached, volume=volume, cuts={})

    much, little, short = plan(None, 0.5, 900.0), plan(None, 0.5, 300.0), plan("wall", 0.45, 10.0)
    found: Any = SimpleNamespace(plans=(much, little, short))
    assert best_plan(found) is little
    farther = plan("wall", 0.47, 500.0)
    found = SimpleNamespace(plans=(short, farther))
    assert best_plan(found) is farther


def test_a_wall_under_the_least_allowed_is_told_with_its_reason() -> None:
    assert wall_words(cut(wall=5.0), 4.8) == (
        ", wall left 0.197 in (5.0 mm) where 0.189 in (4.8 mm) has to stay"
    )
    thin = wall_words(cut(wall=4.0, limit=3.9), 4.8)
    assert "where 0.154 in (3.9 mm) has to stay: under 0.189 in (4.8 mm)" in thin
    assert "hardly thicker there to begin with" in thin
    assert wall_words(cut(wall=inf), 4.8) == "; no wall is near"


def test_an_export_without_relief_is_refused_in_one_line(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    rig = "demo:long-legged-trail-wagon"
    ran = run(monkeypatch, capsys, "joint", rig, "pinion", "--export", str(tmp_path))
    assert ran.code == 2
    assert "goes with --relief" in ran.err
    assert len(ran.err.strip().splitlines()) == 1


@pytest.mark.needs_gl
@pytest.mark.slow
def test_the_marked_colour_is_on_the_page(tmp_path: Path) -> None:
    save_picture(picture(), tmp_path / "p.png")
    with Image.open(tmp_path / "p.png") as read:
        image = np.asarray(read).astype(int)
    view = image[200:840, :960]
    marked = (view[..., 0] > 150) & (view[..., 0] - view[..., 1] > 80)
    assert marked.mean() > 0.002
