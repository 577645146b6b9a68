"""What is to be seen, as verbs: parts and marks in their places, from a side that shows them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.contact.containment import holds
from geometry.mesh import Mesh
from sim.frames import Rx, Ry, Rz, pose
from tests.simple_shapes import ball, box
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.subjects import blocks, cube, grey, yokes
from viewer.draw.base import Letters
from viewer.draw.camera import Region
from viewer.scene.labels import Ground, Label, place
from viewer.scene.marks import DASH, DOT, SPACE, arc, axis_line
from viewer.scene.page import arrow, balanced, fitted, wrapped
from viewer.scene.parts import LOOKS, MATERIALS, PosedPart, SceneError
from viewer.scene.section import clipped, cut, filled, hatch
from viewer.scene.side import hidden, telling_side
from viewer.scene.spot import Spot, bites, look, overlap, spots_of
from viewer.words.captions import seen_from, short_length

X_ANY = pose(Rz(0.7) @ Ry(-0.4) @ Rx(1.1), [3.0, -2.0, 5.0])


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


def test_bolts_and_straps_are_told_from_the_yokes_by_lightness_hue_and_edge() -> None:
    """Lightness by the weights of the test above; hue by the spread of the three channels."""
    yokes = [MATERIALS[name] for name in ("light steel", "dark steel", "grey steel")]
    for name in ("bolts", "straps", "nut"):
        paint = MATERIALS[LOOKS[name]]
        assert paint.edge >= 2.0 > max(yoke.edge for yoke in yokes)
        assert np.ptp(paint.colour) > 3.0 * max(np.ptp(yoke.colour) for yoke in yokes)
        assert grey(paint.colour) > 1.5 * grey(MATERIALS["dark steel"].colour)


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


@pytest.mark.slow
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
    (bite,) = spots_of(picture.points, 0.0, picture.overlap)
    np.testing.assert_allclose(bite.size, depth, rtol=1e-9)
    x = picture.axes[1]
    np.testing.assert_allclose(abs(bite.across @ x), 1.0, atol=1e-9)
    middle = (picture.centre - 0.5 * depth * x - bite.at) @ x
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
    np.testing.assert_allclose([large.volume, small.volume], [40.0, 20.0], rtol=1e-9)
    depths = [Spot.bitten(each).size for each in (large, small)]
    np.testing.assert_allclose(depths, [1.0, 0.5], rtol=1e-9)


def test_the_overlap_of_real_yokes_lies_in_both() -> None:
    picture = yokes(31.0)
    assert picture.overlap is not None
    middles = picture.overlap.triangles.mean(axis=1)
    middle = Spot.bitten(bites(picture.overlap)[0]).at
    deep = 0.98 * middles + 0.02 * middle
    for solid in picture.solids[:2]:
        R, p = solid.X_CP[:3, :3], solid.X_CP[:3, 3]
        near = np.linalg.norm(deep - middle, axis=1) < 3.0
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


@pytest.mark.slow
@pytest.mark.parametrize(("bend", "spin"), [(31.0, None), (34.0, 90.0), (29.5, 45.0), (20.0, None)])
def test_the_touching_place_of_real_yokes_is_looked_at_from_where_it_is_seen(bend, spin) -> None:
    picture = yokes(bend, spin)
    toward, spots = look(
        spots_of(picture.points, picture.gap_mm, picture.overlap), picture.solids, picture.axes
    )
    triangles = np.concatenate([p.in_chassis[p.mesh.faces] for p in picture.solids])
    seen = ~hidden(triangles, spots[0].places, toward, spots[0].skin)
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
    stage, letters = RecordingStage(), Letters(20.0)
    text = "one two three four five six seven eight nine ten eleven twelve"
    rows = wrapped(stage, text, letters, 300.0)
    assert " ".join(rows) == text
    assert max(stage.extent(row, letters) for row in rows) <= 300.0
    even = balanced(stage, text, letters, 300.0)
    assert " ".join(even) == text
    assert len(even) == len(rows)
    assert len(even[-1]) >= len(rows[-1])
    small = fitted(stage, text, letters, 300.0)
    np.testing.assert_allclose(stage.extent(text, small), 300.0, rtol=1e-12)
    assert fitted(stage, "one", letters, 300.0) is letters


@given(st.integers(0, 1000))
@settings(deadline=None, max_examples=25)
def test_labels_keep_off_each_other_and_off_what_is_shown(seed):
    rng = np.random.default_rng(seed)
    stage, ground = RecordingStage(), Ground(Region(0.0, 0.0, 1000.0, 700.0))
    shown = Region(*rng.uniform(200.0, 500.0, 2), 250.0, 150.0)
    ground.cover_box(shown)
    labels = [
        Label((("a label", Letters(24.0)),), tuple(shown.middle + rng.uniform(-60, 60, 2)), 8.0)
        for _ in range(5)
    ]
    boxes = place(stage, ground, labels)
    assert not any(shown.meets(box.grown(-8.0)) for box in boxes)
    assert not any(a.grown(-8.0).meets(b) for i, a in enumerate(boxes) for b in boxes[:i])
    assert stage.said() == ["a label"] * 5
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
    line = axis_line(np.zeros(2), np.array([60.0, 80.0]))  # 100 px
    length = np.linalg.norm(line[:, 1] - line[:, 0], axis=-1)
    dash, dot, gap = DASH, DOT, SPACE
    last = 100.0 - 2.0 * (dash + dot + 2.0 * gap)
    np.testing.assert_allclose(np.sort(length), np.sort([dash, dash, last, dot, dot]), rtol=1e-9)
    np.testing.assert_allclose(line @ [0.8, -0.6], 0.0, atol=1e-9)


def test_the_arrow_is_a_closed_body_with_its_tip_ahead() -> None:
    mesh = arrow()
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.volume, 0.1 * (0.56 * 0.22 + 0.5 * 0.44 * 0.54), rtol=1e-12)
    tip = mesh.vertices[mesh.vertices[:, 0] > 0.49]
    np.testing.assert_allclose(tip[:, 1], 0.0)
    assert mesh.vertices[:, 0].max() == 0.5
