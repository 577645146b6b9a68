"""What is to be seen, as verbs: parts and marks in their places, from a side that shows them."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.containment import holds
from geometry.mesh import Mesh
from sim.frames import Rx, Ry, Rz, pose
from tests.simple_shapes import ball, box
from tests.viewer.subjects import AT, HEADLINE, LINES, blocks, cube, posed, shaft, yokes
from viewer.draw.base import Letters
from viewer.draw.camera import Region
from viewer.draw.recording import RecordingCanvas
from viewer.scene.build_shaft import export_parts
from viewer.scene.joint import find_spots, look, samples
from viewer.scene.joint_scene import draw_joint
from viewer.scene.labels import Ground, Label, place
from viewer.scene.marks import BLUE, RED, arc, dashes, short_length
from viewer.scene.overlap import bites, overlap
from viewer.scene.page import arrow, balanced, fitted, seen_from, wrapped
from viewer.scene.parts import MATERIALS, PosedPart, SceneError
from viewer.scene.section import clipped, cut, filled, hatch
from viewer.scene.shaft import JointMark, ShaftPicture
from viewer.scene.shaft_scene import draw_shaft
from viewer.scene.side import hidden, telling_side

X_ANY = pose(Rz(0.7) @ Ry(-0.4) @ Rx(1.1), [3.0, -2.0, 5.0])


def grey(colour):
    """Lightness in a black and white print (weights of ITU-R BT.601, from memory)."""
    return float(np.dot(colour, [0.299, 0.587, 0.114]))


def drawn(picture, size=(1600, 1000)):
    canvas = RecordingCanvas(size)
    (draw_shaft if isinstance(picture, ShaftPicture) else draw_joint)(picture, canvas)
    return canvas


# parts


def test_a_part_says_what_is_wrong_with_it() -> None:
    with pytest.raises(SceneError, match="no material 'gold'; there are light steel"):
        PosedPart("ring", "gold", cube(), np.eye(4))
    for bad in (
        np.eye(3),
        np.diag([1.0, 1.0, -1.0, 1.0]),
        2.0 * np.eye(4),
        np.full((4, 4), np.nan),
    ):
        with pytest.raises(SceneError, match="ring: X_CP is not a pose"):
            PosedPart("ring", "brass", cube(), bad)


def test_the_two_steels_differ_also_in_black_and_white() -> None:
    light, dark = (grey(MATERIALS[name].colour) for name in ("light steel", "dark steel"))
    assert light > 2.0 * dark


# cut and hatching


def test_the_cut_of_a_ball_is_a_circle() -> None:
    mesh = ball((0.0, 0.0, 0.0), 20.0, "ball")
    for height in (0.0, 7.0, -12.5):
        skin = cut(mesh, pose(X_ANY[:3, :3], [1.0, 2.0, height]))
        radius = np.linalg.norm(skin - [1.0, 2.0], axis=-1)
        true = np.sqrt(20.0**2 - height**2)
        assert true - 2.0 * mesh.chord * 20.0 / true <= radius.min()
        assert radius.max() <= true + 1e-9
    assert cut(mesh, pose(np.eye(3), [0.0, 0.0, 20.1])).shape == (0, 2, 2)


@pytest.mark.parametrize("height", [0.0, 5.0, -5.0, 2.0])
def test_cuts_through_corners_stay_closed(height: float) -> None:
    """Also where the plane runs along a face, every end of a segment is the end of another."""
    skin = cut(cube(10.0), pose(Rz(0.3), [0.0, 0.0, height]))
    ends, count = np.unique(skin.reshape(-1, 2).round(9), axis=0, return_counts=True)
    lone = np.linalg.norm(skin[:, 1] - skin[:, 0], axis=-1) < 1e-9
    assert (count % 2 == 0).all() or lone.any()
    assert len(ends) == 0 or np.abs(ends).max() < 10.0


@given(angle=st.floats(-3.0, 3.0), turn=st.floats(-3.0, 3.0))
@settings(deadline=None)
def test_a_hatching_covers_the_area_whatever_its_angle(angle, turn):
    skin = cut(box((-10, -6, -5), (10, 6, 5), "side"), pose(Rz(turn), [1.0, 2.0, 0.0]))
    lines = hatch(skin, angle, 0.01)
    length = np.linalg.norm(lines[:, 1] - lines[:, 0], axis=-1).sum()
    np.testing.assert_allclose(0.01 * length, 240.0, atol=0.02)


def test_a_hatching_converges_in_first_order_or_better_to_a_circle() -> None:
    mesh = ball((0.0, 0.0, 0.0), 20.0, "ball")
    skin = cut(mesh, pose(Rz(0.1), [0.0, 0.0, 0.3]))
    x, y = skin[..., 0], skin[..., 1]
    true = 0.5 * np.abs(x[:, 0] * y[:, 1] - x[:, 1] * y[:, 0]).sum()
    pitches = [2.0, 1.0, 0.5, 0.25, 0.125]
    errors = []
    for pitch in pitches:
        lines = hatch(skin, 0.7, pitch)
        errors.append(abs(pitch * np.linalg.norm(lines[:, 1] - lines[:, 0], axis=-1).sum() - true))
    assert np.log2(errors[0] / errors[-1]) / (len(pitches) - 1) > 1.0


def test_a_hollow_is_left_white() -> None:
    shell = Mesh.join([ball((0, 0, 0), 20.0, "out"), _inside_out(ball((0, 0, 0), 12.0, "in"))])
    lines = hatch(cut(shell, np.eye(4)), 0.4, 0.5)
    along = np.linspace(0.01, 0.99, 41)[:, None, None]
    radius = np.linalg.norm(lines[:, 0] + along * (lines[:, 1] - lines[:, 0]), axis=-1)
    assert radius.min() > 11.9
    assert radius.max() < 20.0


def _inside_out(mesh: Mesh) -> Mesh:
    return Mesh(mesh.vertices, mesh.faces[:, ::-1], mesh.labels, mesh.label_names)


def test_strips_fill_what_the_hatching_fills() -> None:
    skin = cut(box((-10, -6, -5), (10, 6, 5), "side"), pose(Rz(0.4), [0.0, 0.0, 0.0]))
    strips = filled(skin, 0.02)
    a, b = strips[:, 1] - strips[:, 0], strips[:, 2] - strips[:, 0]
    np.testing.assert_allclose(
        0.5 * np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]).sum(), 240.0, atol=0.05
    )


@given(st.integers(0, 10_000))
@settings(deadline=None)
def test_clipping_keeps_just_what_is_inside(seed):
    segments = np.random.default_rng(seed).uniform(-3.0, 3.0, size=(20, 2, 2))
    segments[0, 1, 0] = segments[0, 0, 0]  # an upright one
    low, high = np.array([-1.0, -0.5]), np.array([1.5, 1.0])
    kept = clipped(segments, low, high)
    assert (kept >= low - 1e-12).all()
    assert (kept <= high + 1e-12).all()
    share = np.linspace(0.0, 1.0, 20_001)[:, None, None]
    points = segments[:, 0] + share * (segments[:, 1] - segments[:, 0])
    inside = ((points >= low) & (points <= high)).all(axis=-1).mean(axis=0)
    length = np.linalg.norm(segments[:, 1] - segments[:, 0], axis=-1)
    total = np.linalg.norm(kept[:, 1] - kept[:, 0], axis=-1).sum()
    np.testing.assert_allclose(total, (inside * length).sum(), atol=20 * 2e-3)


# overlap


@given(depth=st.floats(0.05, 9.0))
@settings(deadline=None, max_examples=20)
def test_the_overlap_of_two_blocks_in_closed_form(depth):
    picture = blocks(-depth)
    assert picture.overlap is not None
    np.testing.assert_allclose(picture.overlap.volume, 30.0 * 30.0 * depth, rtol=1e-9)
    (bite,) = bites(picture.overlap)
    np.testing.assert_allclose(bite.depth, depth, rtol=1e-9)
    x = picture.axes[1]
    np.testing.assert_allclose(abs(bite.thin @ x), 1.0, atol=1e-9)
    middle = (picture.centre - 0.5 * depth * x - bite.middle) @ x
    assert abs(middle) < 1.0


def test_no_overlap_is_none_and_two_bites_are_two() -> None:
    bar = PosedPart("bar", "brass", box((-30, -2, -2), (30, 2, 2), "bar"), X_ANY)
    fork = Mesh.join(
        [box((-30, -5, 1), (-20, 5, 9), "prong"), box((20, -5, 1.5), (30, 5, 9), "prong")]
    )
    assert overlap(bar, PosedPart("far", "brass", cube(), pose(np.eye(3), [99.0, 0, 0]))) is None
    both = overlap(bar, PosedPart("fork", "brass", fork, X_ANY))
    assert both is not None
    large, small = bites(both)
    np.testing.assert_allclose([large.mesh.volume, small.mesh.volume], [40.0, 20.0], rtol=1e-9)
    np.testing.assert_allclose([large.depth, small.depth], [1.0, 0.5], rtol=1e-9)


def test_the_overlap_of_real_yokes_lies_in_both() -> None:
    picture = yokes(31.0)
    assert picture.overlap is not None
    middles = picture.overlap.triangles.mean(axis=1)
    deep = 0.98 * middles + 0.02 * bites(picture.overlap)[0].middle
    for solid in picture.solids[:2]:
        R, p = solid.X_CP[:3, :3], solid.X_CP[:3, 3]
        near = np.linalg.norm(deep - bites(picture.overlap)[0].middle, axis=1) < 3.0
        assert holds(solid.mesh, (deep[near] - p) @ R).mean() > 0.9


# from which side


def test_what_lies_in_front_hides_and_what_lies_behind_does_not() -> None:
    mesh = ball((0.0, 0.0, 0.0), 10.0, "ball")
    toward = np.array([0.6, 0.0, 0.8])
    aside = np.array([0.8, 0.0, -0.6])
    places = np.stack(
        [-30.0 * toward, 30.0 * toward, 11.0 * aside - 30.0 * toward, 9.0 * aside - 5.0 * toward]
    )
    np.testing.assert_array_equal(
        hidden(mesh.triangles, places, toward), [True, False, False, True]
    )
    np.testing.assert_array_equal(
        hidden(mesh.triangles, places, -3.0 * toward), [False, True, False, False]
    )
    under = 9.0 * toward
    np.testing.assert_array_equal(hidden(mesh.triangles, under[None], toward, 0.5), [True])
    np.testing.assert_array_equal(hidden(mesh.triangles, under[None], toward, 1.5), [False])


@pytest.mark.parametrize("opening", [(1.0, 0.0, 0.1), (0.0, -1.0, 0.0), (0.6, 0.6, 0.5)])
def test_a_place_in_a_well_is_looked_at_through_its_opening(opening) -> None:
    out = np.array(opening) / np.linalg.norm(opening)
    aside = np.cross(out, [0.2, 0.3, 0.9])
    aside /= np.linalg.norm(aside)
    R = np.stack([aside, np.cross(out, aside), out], axis=-1)
    walls = Mesh.join(
        [
            box((-30, -30, -40), (30, 30, -10), "floor"),
            *(box((a, -30, -40), (a + 20, 30, 20), "wall") for a in (-30, 10)),
            *(box((-30, a, -40), (30, a + 20, 20), "wall") for a in (-30, 10)),
        ]
    )
    well = PosedPart("well", "brass", walls, pose(R, [0.0, 0.0, 0.0]))
    axes = np.stack([aside, -aside])
    toward, shown = telling_side([well], axes, np.zeros((1, 3)))
    assert shown == 1.0
    assert np.degrees(np.arccos(toward @ out)) < 36.0  # the half angle of the well's mouth


def test_with_nothing_in_the_way_the_bend_is_seen_in_full() -> None:
    bend = 0.5
    axes = np.array([[1.0, 0.0, 0.0], [-np.cos(bend), 0.0, np.sin(bend)]])
    toward, shown = telling_side([PosedPart("far", "brass", cube(1.0), np.eye(4))], axes, axes * 50)
    assert shown == 1.0
    assert np.degrees(np.arccos(abs(toward[1]))) < 25.0


@pytest.mark.parametrize(("bend", "spin"), [(31.0, None), (34.0, 90.0), (29.5, 45.0), (20.0, None)])
def test_the_touching_place_of_real_yokes_is_looked_at_from_where_it_is_seen(bend, spin) -> None:
    picture = yokes(bend, spin)
    toward, spots = look(picture, find_spots(picture))
    triangles = np.concatenate([p.in_chassis[p.mesh.faces] for p in picture.solids])
    seen = ~hidden(triangles, samples(picture, spots[0]), toward, spots[0].skin)
    assert seen.mean() >= 0.4
    assert np.abs(picture.axes @ toward).max() < 0.9


# words and labels


def test_from_where_a_picture_is_seen_in_words() -> None:
    assert seen_from([0.0, 3.0, 0.0]) == "Seen from the left"
    assert seen_from([-1.0, -2.0, 0.1]) == "Seen from the right and behind"
    assert seen_from([1.0, 1.5, -1.2]) == "Seen from the left, below and the front"


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (0.0, "0.000 in (0.0 mm)"),
        (0.01, "under 0.004 in (0.1 mm)"),
        (1.8, "0.071 in (1.8 mm)"),
        (9.99, "0.393 in (10.0 mm)"),
        (12.7, "0.50 in (13 mm)"),
    ],
)
def test_a_gap_in_both_units(mm: float, text: str) -> None:
    assert short_length(mm) == text


def test_words_are_broken_and_made_smaller_to_fit() -> None:
    canvas, letters = RecordingCanvas(), Letters(20.0)
    text = "one two three four five six seven eight nine ten eleven twelve"
    rows = wrapped(canvas, text, letters, 300.0)
    assert " ".join(rows) == text
    assert max(canvas.extent(row, letters) for row in rows) <= 300.0
    even = balanced(canvas, text, letters, 300.0)
    assert " ".join(even) == text
    assert len(even) == len(rows)
    assert len(even[-1]) >= len(rows[-1])
    small = fitted(canvas, text, letters, 300.0)
    np.testing.assert_allclose(canvas.extent(text, small), 300.0, rtol=1e-12)
    assert fitted(canvas, "one", letters, 300.0) is letters


@given(st.integers(0, 1000))
@settings(deadline=None, max_examples=25)
def test_labels_keep_off_each_other_and_off_what_is_shown(seed):
    rng = np.random.default_rng(seed)
    canvas, ground = RecordingCanvas(), Ground(Region(0.0, 0.0, 1000.0, 700.0))
    shown = Region(*rng.uniform(200.0, 500.0, 2), 250.0, 150.0)
    ground.cover_box(shown)
    labels = [
        Label((("a label", Letters(24.0)),), tuple(shown.middle + rng.uniform(-60, 60, 2)), 8.0)
        for _ in range(5)
    ]
    boxes = place(canvas, ground, labels, 1.0)
    assert not any(shown.meets(box.grown(-8.0)) for box in boxes)
    assert not any(a.grown(-8.0).meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert canvas.said() == ["a label"] * 5
    low = np.array([each.corners[0] for each in boxes])
    high = np.array([each.corners[1] for each in boxes])
    assert (low >= 0.0).all()
    assert (high <= [1008.0, 708.0]).all()


def test_an_arc_turns_by_the_angle_and_dashes_cover_their_line() -> None:
    centre, a = np.array([1.0, 2.0, 3.0]), np.array([2.0, 0.0, 0.0])
    b = np.array([np.cos(0.7), np.sin(0.7), 0.0])
    points = arc(centre, a, b, 5.0)
    np.testing.assert_allclose(np.linalg.norm(points - centre, axis=1), 5.0, rtol=1e-12)
    np.testing.assert_allclose(points[[0, -1]], centre + 5.0 * np.stack([a / 2.0, b]), atol=1e-12)
    straight = arc(centre, a, a, 5.0)
    np.testing.assert_allclose(straight, np.repeat(centre[None] + [[5.0, 0.0, 0.0]], 2, 0))
    line = dashes(np.zeros(2), np.array([30.0, 40.0]), 6.0, 4.0)
    length = np.linalg.norm(line[:, 1] - line[:, 0], axis=-1)
    np.testing.assert_allclose(length, 6.0, rtol=1e-12)
    assert len(line) == 5


def test_the_arrow_is_a_closed_body_with_its_tip_ahead() -> None:
    mesh = arrow()
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.volume, 0.1 * (0.56 * 0.22 + 0.5 * 0.44 * 0.54), rtol=1e-12)
    tip = mesh.vertices[mesh.vertices[:, 0] > 0.49]
    np.testing.assert_allclose(tip[:, 1], 0.0)
    assert mesh.vertices[:, 0].max() == 0.5


# the picture of a joint


def test_everything_is_drawn_where_it_stands() -> None:
    picture = yokes(31.0)
    canvas = drawn(picture)
    solids = canvas.of("solid", "joint")
    assert [call.told["name"] for call in solids] == [p.name for p in picture.parts] + ["overlap"]
    for call, part in zip(solids, picture.parts, strict=False):
        assert call.told["mesh"] is part.mesh
        np.testing.assert_array_equal(call.told["X_CP"], part.X_CP)
        assert not call.told["on_top"]
    assert solids[-1].told["on_top"]
    assert solids[-1].told["mesh"] is picture.overlap
    assert solids[-1].told["paint"] is MATERIALS["mark"]
    for call in canvas.of("lines", "joint"):
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
        name: [call.told["pen"].colour for call in canvas.of("stroke")]
        for name, canvas in (("clear", clear), ("touching", touching))
    }
    assert BLUE in pens["clear"]
    assert RED not in pens["clear"]
    assert RED in pens["touching"]
    assert BLUE not in pens["touching"]
    assert "GAP 0.098 in (2.5 mm)" in clear.said()
    assert "METAL MEETS METAL" in touching.said()
    ring = [len(c.told["segments"]) for c in clear.of("stroke") if c.told["pen"].colour == BLUE]
    mark = [len(c.told["segments"]) for c in touching.of("stroke") if c.told["pen"].colour == RED]
    assert 64 in ring  # two plain circles
    assert 64 + 4 in mark  # one circle with its ticks


def test_the_gap_is_drawn_between_its_two_points() -> None:
    picture = blocks(6.0)
    canvas = drawn(picture)
    ends = canvas.cameras["joint"].project(picture.points, canvas.regions["joint"])
    lines = [call.told["segments"] for call in canvas.of("stroke")]
    assert any(np.allclose(line[0], ends, atol=1e-9) for line in lines)
    scale = canvas.cameras["joint"].px_per_mm(canvas.regions["joint"])
    np.testing.assert_allclose(np.linalg.norm(ends[1] - ends[0]) / scale, 6.0, rtol=0.15)


def test_the_ring_is_around_the_place() -> None:
    picture = blocks(-3.0)
    canvas = drawn(picture)
    (bite,) = bites(picture.overlap)
    at = canvas.cameras["joint"].project(bite.middle, canvas.regions["joint"])
    for call in canvas.of("stroke"):
        if call.told["pen"].colour == RED and len(call.told["segments"]) == 68:
            radius = np.linalg.norm(call.told["segments"][:64] - at, axis=-1)
            np.testing.assert_allclose(radius, radius[0, 0], rtol=1e-9)
            seen = canvas.cameras["joint"].project(bite.mesh.vertices, canvas.regions["joint"])
            assert np.linalg.norm(seen - at, axis=1).max() < radius[0, 0]
            return
    pytest.fail("no ring")


def test_a_place_behind_metal_is_ringed_with_dashes_and_says_so() -> None:
    picture = blocks(-3.0)
    shell = PosedPart(
        "shell", "brass", box((-99, -99, -99), (99, 99, 99), "side"), picture.solids[0].X_CP
    )
    canvas = drawn(replace(picture, parts=(*picture.parts, shell)))
    assert "behind the metal in front" in canvas.said()
    red = [len(c.told["segments"]) for c in canvas.of("stroke") if c.told["pen"].colour == RED]
    assert 64 + 4 not in red
    assert 40 + 4 in red


def test_the_cut_shows_each_body_with_a_hatching_of_its_own() -> None:
    canvas = drawn(blocks(-3.0))
    said = canvas.said()
    assert any(text.startswith("Cut through this place, ") for text in said)
    assert {"left block", "right block"} <= set(said)
    grounds = {grey(call.told["colour"]) for call in canvas.of("area")}
    # Two steels, the overlap, paper and ink: all apart in black and white.
    assert all(b - a > 0.05 for a, b in pairwise(sorted(grounds)) if b - a > 1e-6)
    assert len(grounds) >= 4


def test_the_cut_is_to_scale_and_through_the_place() -> None:
    """The width of the red strip in the cut is the depth of the overlap."""
    canvas = drawn(blocks(-3.0))
    red = [call.told["triangles"] for call in canvas.of("area") if call.told["colour"] == RED]
    corners = max(red, key=len).reshape(-1, 2)
    (text,) = (text for text in canvas.said() if text.startswith("Cut through"))
    times = float(text.split(",")[1].split()[0])
    scale = canvas.cameras["joint"].px_per_mm(canvas.regions["joint"]) * times
    angle = np.radians(np.arange(0.0, 180.0, 0.2))
    across = np.ptp(corners @ np.stack([np.cos(angle), np.sin(angle)]), axis=0).min()
    # The words round the scale to a whole number.
    np.testing.assert_allclose(across / scale, 3.0, rtol=0.5 / times)


def test_without_solids_there_is_no_cut_and_without_points_no_mark() -> None:
    picture = blocks(2.0)
    bare = drawn(replace(picture, solids=()))
    assert not any(text.startswith("Cut") for text in bare.said())
    assert "GAP 0.079 in (2.0 mm)" in bare.said()
    assert bare.regions["joint"].width > 1.3 * drawn(picture).regions["joint"].width
    unmarked = drawn(replace(picture, points=None))
    assert not any(text.startswith(("GAP", "Cut")) for text in unmarked.said())


@pytest.mark.parametrize("size", [(800, 500), (1600, 1000), (2400, 1500), (1000, 1400)])
def test_words_stay_on_the_page_whatever_its_size(size) -> None:
    picture = replace(yokes(31.0), headline="A very long headline " * 6, lines=("words " * 60,) * 4)
    canvas = drawn(picture, size)
    for call in canvas.of("words"):
        x, y = call.told["at"]
        width = canvas.extent(call.told["text"], call.told["letters"])
        assert x >= -1.0
        assert x + width <= size[0] + 1.0
        assert 0.0 <= y <= size[1]


def test_forward_is_where_the_arrow_points() -> None:
    for picture in (yokes(31.0), yokes(20.0), shaft()):
        canvas = drawn(picture)
        (call,) = canvas.of("solid", "forward")
        np.testing.assert_allclose(call.told["X_CP"][:3, 0], [1.0, 0.0, 0.0], atol=1e-15)
        main = canvas.cameras["shaft" if isinstance(picture, ShaftPicture) else "joint"]
        np.testing.assert_allclose(canvas.cameras["forward"].R_VC, main.R_VC, atol=1e-12)
        region = canvas.regions["forward"]
        tip = canvas.cameras["forward"].project(
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
        ShaftPicture(picture.parts, (), "x")
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


def test_the_marked_points_lie_on_the_metal_they_speak_of() -> None:
    picture = yokes(20.0)
    named = {solid.name: solid for solid in picture.solids}
    assert not picture.overlaps
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
    canvas = drawn(picture)
    said = canvas.said()
    assert said[:3] == [picture.headline, *LINES]
    for joint in picture.joints:
        assert f"bend {np.degrees(joint.bend):.1f}°" in said
        assert joint.name in said
    assert {"37 in joint to joint", "level", "FORWARD", "Seen from the left"} <= set(said)
    names = {call.told["name"] for call in canvas.of("solid", "shaft")}
    assert {"output yoke", "pinion yoke", "shaft", "housing", "case"} <= names
    region, camera = canvas.regions["shaft"], canvas.cameras["shaft"]
    points = np.concatenate([part.in_chassis for part in picture.parts])
    seen = camera.project(points, region)
    assert (seen >= region.corners[0]).all()
    assert (seen <= region.corners[1]).all()


def test_the_ground_is_drawn_where_it_is() -> None:
    picture = replace(shaft(), ground=-420.0)
    canvas = drawn(picture)
    assert "ground" in canvas.said()
    y = canvas.cameras["shaft"].project(np.array([0.0, 0.0, -420.0]), canvas.regions["shaft"])[1]
    level = [c.told["segments"] for c in canvas.of("stroke") if len(c.told["segments"]) == 1]
    assert any(np.allclose(line[0, :, 1], y, atol=1e-9) for line in level)


def test_the_shaft_between_its_yokes_fills_what_is_between_them() -> None:
    found = posed()
    pieces = [part for part in shaft().parts if part.name == "shaft"]
    assert {part.material for part in pieces} >= {"light steel", "bright steel", "rubber"}
    R, p = found.state.X_C["shaft"][:3, :3], found.state.X_C["shaft"][:3, 3]
    along = np.concatenate([(part.in_chassis - p) @ R for part in pieces])[:, 0]
    length = float(found.state.line.length)
    output = found.joints["output"].hardware.driven.weld_land
    pinion = found.joints["pinion"].hardware.driving.weld_land
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
