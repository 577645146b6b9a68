"""The paper that draws: poses, places and colours, asked of the picture itself."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sim.frames import Rx, Ry, Rz, pose
from tests.simple_shapes import ball, box
from tests.viewer.recording_stage import RecordingStage
from tests.viewer.subjects import blocks, cube
from viewer.draw.base import BLACK, Letters, Paint, Pen
from viewer.draw.camera import Camera, Region
from viewer.draw.pyvista_paper import PyVistaPaper
from viewer.scene.page import unit_of, wrapped
from viewer.written.child import save_png

pytestmark = pytest.mark.needs_gl

RED, GREEN = Paint((1.0, 0.0, 0.0), glow=1.0), Paint((0.0, 1.0, 0.0), glow=1.0)
UP = np.array([0.0, 0.0, 1.0])
LEFT = np.array([0.0, 1.0, 0.0])
REGION = Region(40.0, 30.0, 240.0, 160.0)
CAMERA = Camera(np.array([10.0, 20.0, 30.0]), np.array([0.4, 1.0, 0.3]), UP, 80.0)


@pytest.fixture
def paper():
    made = PyVistaPaper((320, 220))
    yield made
    made.close()


def at(image, place):
    """Colour at a place of the page, px from its lower left corner."""
    x, y = (round(value) for value in place)
    return image[image.shape[0] - 1 - y, x].astype(int)


def middle_of(image, colour):
    """Middle, px from the lower left corner, of the pixels that have just this colour."""
    rows, columns = np.nonzero((image == colour).all(axis=-1))
    assert len(rows), f"nothing has the color {colour}"
    return np.array([columns.mean() + 0.5, image.shape[0] - rows.mean() - 0.5])


def test_an_empty_page_is_white(paper) -> None:
    image = paper.image()
    assert image.shape == (220, 320, 3)
    assert image.dtype == np.uint8
    assert (image == 255).all()


def test_poses_go_to_the_actors(paper) -> None:
    X = pose(Rz(0.4) @ Rx(0.3), [1.0, -2.0, 3.0])
    pane = paper.pane("one", REGION, CAMERA)
    pane.solid("block", cube(), RED, X)
    pane.lines("block", np.array([[[0.0, 0.0, 0.0], [5.0, 0.0, 0.0]]]), Pen(), X)
    assert len(pane.actors("block")) == 2
    for actor in pane.actors("block"):
        np.testing.assert_array_equal(actor.user_matrix, X)
    there = pose(Ry(1.0), [4.0, 5.0, 6.0])
    pane.move("block", there)
    for actor in pane.actors("block"):
        np.testing.assert_array_equal(actor.user_matrix, there)


@pytest.mark.parametrize("offset", [(0.0, 0.0, 0.0), (30.0, 5.0, -12.0), (-25.0, 10.0, 20.0)])
def test_a_place_in_space_is_where_the_camera_says(paper, offset) -> None:
    """What VTK draws and what the scene works out for its marks agree to half a pixel."""
    place = CAMERA.focus + np.array(offset)
    pane = paper.pane("one", REGION, CAMERA)
    pane.solid("ball", ball((0.0, 0.0, 0.0), 4.0, "ball"), RED, pose(np.eye(3), place))
    seen = middle_of(paper.image(), (255, 0, 0))
    np.testing.assert_allclose(seen, CAMERA.project(place, REGION), atol=0.5)


def test_a_solid_has_its_size_and_is_cut_at_the_edge_of_its_view(paper) -> None:
    pane = paper.pane("one", REGION, Camera(np.zeros(3), LEFT, UP, 80.0))
    pane.solid("slab", box((-200, -1, -10), (200, 1, 10), "side"), RED, np.eye(4))
    rows, columns = np.nonzero((paper.image() == (255, 0, 0)).all(axis=-1))
    assert (columns.min(), columns.max()) == (40, 279)
    np.testing.assert_allclose(np.ptp(rows) + 1, 40.0, atol=1.0)


def test_what_is_nearer_hides_unless_the_other_is_on_top(paper) -> None:
    camera = Camera(np.zeros(3), LEFT, UP, 80.0)
    near, far = pose(np.eye(3), [0.0, 15.0, 0.0]), pose(np.eye(3), [0.0, -15.0, 0.0])
    pane = paper.pane("one", REGION, camera)
    pane.solid("near", cube(20.0), GREEN, near)
    pane.solid("far", cube(20.0), RED, far)
    np.testing.assert_array_equal(at(paper.image(), REGION.middle), [0, 255, 0])
    pane.solid("top", cube(8.0), RED, far, on_top=True)
    np.testing.assert_array_equal(at(paper.image(), REGION.middle), [255, 0, 0])
    pane.move("far", near)
    pane.move("near", far)
    beside = REGION.middle + np.array([15.0, 0.0])
    np.testing.assert_array_equal(at(paper.image(), beside), [255, 0, 0])


def test_lines_lie_on_their_surface_and_behind_others(paper) -> None:
    pane = paper.pane("one", REGION, Camera(np.zeros(3), LEFT, UP, 80.0))
    pane.solid("slab", box((-30, -5, -30), (30, 5, 30), "side"), GREEN, np.eye(4))
    front = np.array([[[-20.0, 5.0, 8.0], [20.0, 5.0, 8.0]]])
    behind = np.array([[[-20.0, -5.0, -8.0], [20.0, -5.0, -8.0]]])
    pane.lines("slab", front, Pen(BLACK, 3.0), np.eye(4))
    pane.lines("slab", behind, Pen(BLACK, 3.0), np.eye(4))
    image = paper.image()
    np.testing.assert_array_equal(at(image, REGION.middle + np.array([0.0, 16.0])), [0, 0, 0])
    np.testing.assert_array_equal(at(image, REGION.middle - np.array([0.0, 16.0])), [0, 255, 0])


def test_the_lamps_make_the_upper_left_lightest(paper) -> None:
    pane = paper.pane("one", REGION, Camera(np.zeros(3), LEFT, UP, 80.0))
    pane.solid("ball", ball((0, 0, 0), 30.0, "ball"), Paint((0.6, 0.6, 0.6), 0.0), np.eye(4))
    image = paper.image()
    upper, lower = (at(image, REGION.middle + 30.0 * np.array([-s, s])).sum() for s in (1, -1))
    assert upper > 1.3 * lower


def test_the_page_lies_over_the_views_and_keeps_its_order(paper) -> None:
    pane = paper.pane("one", REGION, Camera(np.zeros(3), LEFT, UP, 80.0))
    pane.solid("slab", box((-60, -5, -60), (60, 5, 60), "side"), GREEN, np.eye(4), on_top=True)
    square = np.array([[[100.0, 80.0], [160.0, 80.0], [160.0, 140.0]]])
    paper.area(square, (1.0, 0.0, 0.0))
    paper.area(square - [30.0, 0.0], (0.0, 0.0, 1.0))
    paper.stroke(np.array([[[90.0, 95.0], [150.0, 95.0]]]), Pen((1.0, 1.0, 0.0), 4.0))
    image = paper.image()
    np.testing.assert_array_equal(at(image, (155.0, 100.0)), [255, 0, 0])
    np.testing.assert_array_equal(at(image, (125.0, 85.0)), [0, 0, 255])
    np.testing.assert_array_equal(at(image, (120.0, 95.0)), [255, 255, 0])
    np.testing.assert_array_equal(at(image, (60.0, 60.0)), [0, 255, 0])


def test_areas_cover_the_pixels_they_should(paper) -> None:
    corners = np.array([[50.0, 40.0], [150.0, 40.0], [150.0, 100.0], [50.0, 100.0]])
    paper.area(corners[[[0, 1, 2], [0, 2, 3]]], (1.0, 0.0, 0.0))
    red = (paper.image() == (255, 0, 0)).all(axis=-1)
    rows, columns = np.nonzero(red)
    assert red.sum() == 100 * 60
    assert (columns.min(), columns.max()) == (50, 149)
    assert (220 - 1 - rows.max(), 220 - 1 - rows.min()) == (40, 99)


@pytest.mark.parametrize("align", ["left", "right"])
def test_words_are_as_wide_as_said_and_hang_where_they_should(paper, align) -> None:
    letters = Letters(24.0, bold=True, align=align)
    paper.write("GAP 1.8 mm", (160.0, 100.0), letters)
    rows, columns = np.nonzero(paper.image().min(axis=-1) < 128)
    width = paper.extent("GAP 1.8 mm", letters)
    np.testing.assert_allclose(np.ptp(columns), width, atol=5.0)
    start = {"left": 160.0, "right": 160.0 - width}[align]
    np.testing.assert_allclose(columns.min(), start, atol=5.0)
    height = 220 - rows
    assert height.min() >= 100.0
    assert height.max() <= 100.0 + 1.28 * 24.0


def test_special_characters_of_a_shop_are_drawn(paper) -> None:
    """A character that the type does not have would take no room or that of a blank."""
    letters = Letters(30.0)
    for character in "°½¼×éß–":
        assert paper.extent(f"a{character}a", letters) > paper.extent("aa", letters) + 3.0


def test_the_estimate_of_the_recording_is_near_what_is_drawn(paper) -> None:
    letters = Letters(24.0)
    text = "At 8 in droop, left wheel 8 deg up, nose 4 deg down"
    real, guessed = (page.extent(text, letters) for page in (paper, RecordingStage()))
    assert 0.75 < guessed / real < 1.25
    rows = wrapped(paper, text, letters, 300.0)
    assert max(paper.extent(row, letters) for row in rows) <= 300.0


def test_a_file_holds_what_was_drawn(paper, tmp_path: Path) -> None:
    paper.area(np.array([[[0.0, 0.0], [320.0, 0.0], [0.0, 220.0]]]), (1.0, 0.0, 0.0))
    save_png(paper.image(), tmp_path / "page.png")
    with Image.open(tmp_path / "page.png") as read:
        np.testing.assert_array_equal(np.asarray(read), paper.image())
        assert read.format == "PNG"
        np.testing.assert_allclose(read.info["dpi"], 160.0, rtol=1e-3)


def test_each_pane_has_things_of_its_own(paper) -> None:
    whole, corner = paper.region, Region(0.0, 0.0, 60.0, 60.0)
    first = paper.pane("whole", whole, Camera(np.zeros(3), LEFT, UP, 80.0))
    first.solid("block", cube(10.0), RED, np.eye(4))
    pane = paper.pane("corner", corner, Camera(np.zeros(3), LEFT, UP, 80.0))
    pane.solid("block", cube(10.0), GREEN, np.eye(4))
    np.testing.assert_allclose(pane.project(np.zeros(3)), corner.middle, atol=1e-6)
    image = paper.image()
    np.testing.assert_array_equal(at(image, whole.middle), [255, 0, 0])
    np.testing.assert_array_equal(at(image, corner.middle), [0, 255, 0])
    pane.remove("block")
    image = paper.image()
    np.testing.assert_array_equal(at(image, whole.middle), [255, 0, 0])
    np.testing.assert_array_equal(at(image, corner.middle), [255, 255, 255])


@pytest.mark.parametrize("size", [(800, 500), (1000, 1400)])
def test_a_smaller_sheet_shows_the_same_in_fewer_pixels(size) -> None:
    unit = unit_of(size)
    paper = PyVistaPaper(size, unit)
    assert paper.size == (1600, round(size[1] / unit))
    square = np.array([[[800.0, 400.0], [1600.0, 400.0], [1600.0, 1000.0]]])
    paper.area(square, (1.0, 0.0, 0.0))
    image = paper.image()
    paper.close()
    assert image.shape == (size[1], size[0], 3)
    red = np.argwhere((image == (255, 0, 0)).all(axis=-1))
    np.testing.assert_allclose(size[1] - red[:, 0].max() - 1, 400.0 * unit, atol=1.0)
    np.testing.assert_allclose(red[:, 1].min(), 800.0 * unit, atol=2.0)


def test_a_whole_picture_shows_both_bodies_and_the_overlap_between_them() -> None:
    picture = blocks(-6.0)
    size = (1000, 620)
    paper = PyVistaPaper(size, unit_of(size))
    picture.draw(paper, paper.region)
    image = paper.image().astype(int)
    paper.close()
    recorded = RecordingStage(size, unit_of(size))
    picture.draw(recorded, recorded.region)
    camera, region = recorded.cameras["joint"], recorded.regions["joint"]
    x, above = picture.axes[1], 7.0 * camera.R_VC[1]  # beside the line of the axis
    left, right, touch = (
        at(image, unit_of(size) * camera.project(picture.centre + s * x + above, region))
        for s in (-45.0, 38.0, -3.0)
    )
    assert left.mean() > 1.5 * right.mean()  # light and dark steel
    assert np.ptp(left) < 30  # steel is grey
    assert touch[0] > 2 * max(touch[1], touch[2])  # the overlap is red
    assert (image < 250).any(axis=-1).mean() > 0.2  # and the page is not blank
