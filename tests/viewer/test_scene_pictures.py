"""Whole pictures as verbs: everything in its place, marked, labelled and to scale."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from geometry.head.turning import second_spin
from sim.frames import Rx, Ry, Rz, pose
from sim.hardware.head import HeadGap, HeadHardware
from sim.pose import check_pose
from sim.vehicle import Pose
from tests.simple_shapes import box
from tests.viewer.subjects import (
    AT,
    HEADLINE,
    LINES,
    blocks,
    drawn,
    grey,
    posed,
    shaft,
    yokes,
)
from viewer.draw.verdict_mark import BLUE, RED
from viewer.rigs import named_rig
from viewer.scene.build_joint import joint_picture
from viewer.scene.build_shaft import export_parts
from viewer.scene.parts import MATERIALS, PosedPart, SceneError
from viewer.scene.shaft import JointMark, ShaftPicture
from viewer.scene.spot import spots_of

X_ANY = pose(Rz(0.7) @ Ry(-0.4) @ Rx(1.1), [3.0, -2.0, 5.0])


# the picture of a joint


def test_everything_is_drawn_where_it_stands() -> None:
    picture = yokes(31.0)
    stage = drawn(picture)
    solids = stage.of("solid", "joint")
    assert [call.told["name"] for call in solids] == [p.name for p in picture.parts] + ["overlap"]
    for call, part in zip(solids, picture.parts, strict=False):
        assert call.told["mesh"] is part.mesh
        np.testing.assert_array_equal(call.told["X_CP"], part.X_CP)
        assert not call.told["on_top"]
    assert solids[-1].told["on_top"]
    assert solids[-1].told["mesh"] is picture.overlap
    assert solids[-1].told["paint"] is MATERIALS["mark"]
    for call in stage.of("lines", "joint"):
        assert any(np.array_equal(call.told["X_CP"], part.X_CP) for part in picture.parts)


def test_the_words_are_all_there() -> None:
    picture = yokes(31.0)
    said = drawn(picture).said()
    assert said[: 1 + len(LINES)] == [HEADLINE, *LINES]
    assert "FORWARD" in " ".join(said)
    assert "METAL MEETS METAL" in said
    assert "bend 31.0°" in said
    for body, surface in zip(picture.bodies, picture.surfaces, strict=True):
        assert f"{body}: {surface}" in said
    assert any(text.startswith("Seen from ") for text in said)
    assert all(word in " ".join(said) for word in picture.caution.split())
    assert {"shaft's weld yoke", "pinion strap yoke", "metal that would have to give"} <= set(said)


def test_room_is_marked_in_another_colour_and_another_shape() -> None:
    clear, touching = drawn(blocks(2.5)), drawn(blocks(-2.5))
    pens = {
        name: [call.told["pen"].colour for call in stage.of("stroke")]
        for name, stage in (("clear", clear), ("touching", touching))
    }
    assert BLUE in pens["clear"]
    assert RED not in pens["clear"]
    assert RED in pens["touching"]
    assert BLUE not in pens["touching"]
    assert "GAP 0.098 in (2.5 mm)" in clear.said()
    assert "METAL MEETS METAL" in touching.said()
    ring = [len(c.told["segments"]) for c in clear.of("stroke") if c.told["pen"].colour == BLUE]
    mark = [len(c.told["segments"]) for c in touching.of("stroke") if c.told["pen"].colour == RED]
    assert 96 in ring  # two plain circles
    assert 96 + 4 in mark  # one circle with its ticks


def test_the_gap_is_drawn_between_its_two_points() -> None:
    picture = blocks(6.0)
    stage = drawn(picture)
    ends = stage.cameras["joint"].project(picture.points, stage.regions["joint"])
    lines = [call.told["segments"] for call in stage.of("stroke")]
    assert any(np.allclose(line[0], ends, atol=1e-9) for line in lines)
    scale = stage.cameras["joint"].px_per_mm(stage.regions["joint"])
    np.testing.assert_allclose(np.linalg.norm(ends[1] - ends[0]) / scale, 6.0, rtol=0.15)


def test_the_ring_is_around_the_place() -> None:
    picture = blocks(-3.0)
    stage = drawn(picture)
    (bite,) = spots_of(picture.points, 0.0, picture.overlap)
    at = stage.cameras["joint"].project(bite.at, stage.regions["joint"])
    for call in stage.of("stroke"):
        if call.told["pen"].colour == RED and len(call.told["segments"]) == 100:
            radius = np.linalg.norm(call.told["segments"][:96] - at, axis=-1)
            np.testing.assert_allclose(radius, radius[0, 0], rtol=1e-9)
            seen = stage.cameras["joint"].project(bite.bite.vertices, stage.regions["joint"])
            assert np.linalg.norm(seen - at, axis=1).max() < radius[0, 0]
            return
    pytest.fail("no ring")


def test_a_place_behind_metal_is_ringed_with_dashes_and_says_so() -> None:
    picture = blocks(-3.0)
    shell = PosedPart(
        "shell", "brass", box((-99, -99, -99), (99, 99, 99), "side"), picture.solids[0].X_CP
    )
    stage = drawn(replace(picture, parts=(*picture.parts, shell)))
    assert "behind the metal in front" in stage.said()
    red = [len(c.told["segments"]) for c in stage.of("stroke") if c.told["pen"].colour == RED]
    assert 96 + 4 not in red
    assert 60 + 4 in red


def test_the_cut_shows_each_body_with_a_hatching_of_its_own() -> None:
    stage = drawn(blocks(-3.0))
    said = stage.said()
    assert any(text.startswith("Cut through this place, ") for text in said)
    assert {"left block", "right block"} <= set(said)
    grounds = {grey(call.told["colour"]) for call in stage.of("area")}
    # Two steels, the overlap, paper and ink: all apart in black and white.
    assert all(b - a > 0.05 for a, b in pairwise(sorted(grounds)) if b - a > 1e-6)
    assert len(grounds) >= 4


def test_the_cut_is_to_scale_and_through_the_place() -> None:
    """The width of the red strip in the cut is the depth of the overlap."""
    stage = drawn(blocks(-3.0))
    red = [call.told["triangles"] for call in stage.of("area") if call.told["colour"] == RED]
    corners = max(red, key=len).reshape(-1, 2)
    (text,) = (text for text in stage.said() if text.startswith("Cut through"))
    times = float(text.split(",")[1].split()[0])
    scale = stage.cameras["joint"].px_per_mm(stage.regions["joint"]) * times
    angle = np.radians(np.arange(0.0, 180.0, 0.2))
    across = np.ptp(corners @ np.stack([np.cos(angle), np.sin(angle)]), axis=0).min()
    # The words round the scale to a whole number.
    np.testing.assert_allclose(across / scale, 3.0, rtol=0.5 / times)


@pytest.mark.slow
@pytest.mark.parametrize("size", [(800, 500), (1600, 1000), (2400, 1500), (1000, 1400)])
def test_words_stay_on_the_page_whatever_its_size(size) -> None:
    picture = replace(yokes(31.0), headline="A very long headline " * 6, lines=("words " * 60,) * 4)
    stage = drawn(picture, size)
    for call in stage.of("write"):
        x, y = call.told["at"]
        width = stage.extent(call.told["text"], call.told["letters"])
        assert x >= -1.0
        assert x + width <= stage.size[0] + 1.0
        assert 0.0 <= y <= stage.size[1]


@pytest.mark.slow
def test_forward_is_where_the_arrow_points() -> None:
    for picture in (yokes(31.0), yokes(20.0), shaft()):
        stage = drawn(picture)
        main = "shaft" if isinstance(picture, ShaftPicture) else "joint"
        pane = f"{main} forward"
        (call,) = stage.of("solid", pane)
        np.testing.assert_allclose(call.told["X_CP"][:3, 0], [1.0, 0.0, 0.0], atol=1e-15)
        R = stage.cameras[main].R_VC
        np.testing.assert_allclose(stage.cameras[pane].R_VC, R, atol=1e-12)
        region = stage.regions[pane]
        tip = stage.cameras[pane].project(
            call.told["mesh"].vertices @ call.told["X_CP"][:3, :3].T, region
        )
        assert (tip >= region.corners[0] - 1e-9).all()
        assert (tip <= region.corners[1] + 1e-9).all()


def test_shapes_that_do_not_fit_are_refused() -> None:
    picture = blocks(1.0)
    with pytest.raises(SceneError, match="needs parts"):
        replace(picture, parts=())
    with pytest.raises(SceneError, match=r"points: .* shape \(2, 3\)"):
        replace(picture, points=np.zeros(3))
    with pytest.raises(SceneError, match="centre"):
        replace(picture, centre=np.full(3, np.nan))
    with pytest.raises(SceneError, match="needs parts and two joints"):
        ShaftPicture(picture.parts, (), headline="x")
    with pytest.raises(SceneError, match="output joint axes"):
        JointMark("output joint", np.zeros(3), np.zeros((3, 3)), 0.1)


# pictures out of a posed shaft


def test_a_joint_is_put_together_as_the_posed_shaft_is() -> None:
    """Built from the pose alone, its yokes sit as the turn of the whole shaft puts them."""
    found = posed()
    joint = found.joints["pinion"]
    picture = yokes(np.degrees(joint.bend), np.degrees(joint.spin))
    X_C = found.state.X_C
    for solid, part in zip(
        picture.solids, ("pinion shaft yoke", "pinion yoke", "pinion cross"), strict=True
    ):
        np.testing.assert_allclose(solid.X_CP, X_C[part], atol=1e-9)
    np.testing.assert_allclose(picture.gap_mm, joint.gap.distance, atol=1e-6)
    angle = np.arccos(-picture.axes[0] @ picture.axes[1])
    np.testing.assert_allclose(angle, joint.bend, atol=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("spin", [0.0, 0.7, 2.0])
def test_a_head_is_put_together_as_the_posed_shaft_is(spin: float) -> None:
    """Whichever of its crosses something is found at: that one is called the cross."""
    found = check_pose(named_rig("demo:short-tailed-scout"), Pose(-40.0, 0.05, 0.02), spin)
    hardware, X_C = found.joints["output"].hardware, found.state.X_C
    assert isinstance(hardware, HeadHardware)
    first, second = hardware.bends(found.joints["output"].bend)
    own = found.joints["output"].spin
    there = float(second_spin(first, own))
    near, far = hardware.crosses
    gaps = near.gap_at(first, own), far.gap_at(second, there)
    for number, gap in enumerate(gaps):
        head_gap = HeadGap(**vars(gap), cross=number)
        picture = joint_picture(found.vehicle, found.at, hardware, head_gap, "x")
        names = ("cross", "second cross") if number == 0 else ("second cross", "cross")
        solids = {solid.name: solid for solid in picture.solids}
        for name, part in (
            (near.yoke_name("driving"), "output yoke"),
            (far.yoke_name("driven"), "output shaft yoke"),
            (names[0], "output cross"),
            (names[1], "output second cross"),
        ):
            np.testing.assert_allclose(solids[name].X_CP, X_C[part], rtol=0.0, atol=1e-9)
        for body, point in zip(picture.bodies, picture.points, strict=True):
            away = np.linalg.norm(solids[body].in_chassis - point, axis=1)
            assert away.min() < 15.0  # on a triangle of that very body


def test_the_marked_points_lie_on_the_metal_they_speak_of() -> None:
    picture = yokes(20.0)
    named = {solid.name: solid for solid in picture.solids}
    assert not picture.touches
    np.testing.assert_allclose(
        np.linalg.norm(picture.points[1] - picture.points[0]), picture.gap_mm, atol=1e-6
    )
    for body, point in zip(picture.bodies, picture.points, strict=True):
        corner = named[body].in_chassis[named[body].mesh.faces]
        normal = np.cross(corner[:, 1] - corner[:, 0], corner[:, 2] - corner[:, 0])
        normal /= np.maximum(np.linalg.norm(normal, axis=1, keepdims=True), 1e-12)
        off = np.abs(np.einsum("ij,ij->i", point - corner[:, 0], normal))
        assert off.min() < 1e-6


def test_the_shaft_is_drawn_whole_with_both_bends() -> None:
    picture = shaft()
    stage = drawn(picture)
    said = stage.said()
    assert said[:3] == [picture.headline, *LINES]
    for joint in picture.joints:
        assert f"bend {np.degrees(joint.bend):.1f}°" in said
        assert joint.name in said
    assert {"37 in joint to joint", "level", "FORWARD", "Seen from the left"} <= set(said)
    names = {call.told["name"] for call in stage.of("solid", "shaft")}
    assert {"output yoke", "pinion yoke", "tube", "housing", "case"} <= names
    region, camera = stage.regions["shaft"], stage.cameras["shaft"]
    points = np.concatenate([part.in_chassis for part in picture.parts])
    seen = camera.project(points, region)
    assert (seen >= region.corners[0]).all()
    assert (seen <= region.corners[1]).all()


def test_the_shaft_between_its_yokes_fills_what_is_between_them() -> None:
    found = posed()
    own = {"tube", "slip sleeve", "slip stub", "boot"}
    pieces = [part for part in shaft().parts if part.name in own]
    assert {part.name for part in pieces} == own
    assert {part.material for part in pieces} >= {"light steel", "bright steel", "rubber"}
    R, p = found.state.X_C["shaft"][:3, :3], found.state.X_C["shaft"][:3, 3]
    along = np.concatenate([(part.in_chassis - p) @ R for part in pieces])[:, 0]
    length = float(found.state.line.length)
    output = found.joints["output"].hardware.driven.tube_from
    pinion = found.joints["pinion"].hardware.driving.tube_from
    assert output is not None
    assert pinion is not None
    bead = 4.0
    assert output - bead <= along.min() <= output + bead
    assert length - pinion - bead <= along.max() <= length - pinion + bead


def test_parts_for_export_are_the_closed_bodies_in_their_poses() -> None:
    parts = export_parts(posed())
    assert [part.name for part in parts] == [
        "output yoke", "output cross", "output shaft yoke",
        "pinion shaft yoke", "pinion cross", "pinion yoke",
    ]  # fmt: skip
    for part in parts:
        assert part.mesh.is_watertight
        np.testing.assert_array_equal(part.X_CP, posed().state.X_C[part.name])
    assert posed().at == AT
