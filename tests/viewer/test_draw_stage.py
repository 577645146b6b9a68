"""The live stage on VTK, off screen: poses, layers, pixels, picking, and nothing left behind."""

import gc
from dataclasses import replace

import numpy as np
import pytest
import pyvista as pv

from sim.frames import Rx, Rz, pose
from tests.simple_shapes import box
from viewer.draw.base import Letters, Paint, Pen, Plate
from viewer.draw.camera import Camera, Region
from viewer.draw.pyvista_stage import PATIENCE, PyVistaStage
from viewer.draw.vtk_parts import SAMPLES

pytestmark = pytest.mark.needs_gl

SIZE = (320, 220)
PAPER = 253
"""The backdrop is dithered by a step or two."""

UP = np.array([0.0, 0.0, 1.0])
LEFT = np.array([0.0, 1.0, 0.0])
CAMERA = Camera(np.zeros(3), LEFT, UP, 110.0)
RED, GREEN = Paint((1.0, 0.0, 0.0), glow=1.0), Paint((0.0, 1.0, 0.0), glow=1.0)
STILL = np.eye(4)
WHITE = (255, 255, 255)


def cube(half=10.0):
    return box((-half, -half, -half), (half, half, half), "block")


def at(x, y, z):
    return pose(np.eye(3), [x, y, z])


@pytest.fixture
def plotter():
    made = pv.Plotter(off_screen=True, window_size=list(SIZE), lighting="none")
    yield made
    made.close()


@pytest.fixture
def stage(plotter):
    made = PyVistaStage(plotter)
    made.backdrop((1.0, 1.0, 1.0), (1.0, 1.0, 1.0))
    made.aim(CAMERA, perspective=False)
    yield made
    made.close()


def colour(stage, point):
    """What is seen where a point (3,) mm is."""
    image = stage.image()
    x, y = stage.project(np.array(point, dtype=float)).round().astype(int)
    seen = image[image.shape[0] - 1 - y, x]
    return WHITE if (seen >= PAPER).all() else tuple(seen.tolist())


def test_everything_of_a_name_moves_together(stage) -> None:
    stage.solid("yoke", cube(), RED, STILL)
    stage.lines("yoke", np.array([[[0.0, 0.0, 0.0], [20.0, 0.0, 0.0]]]), Pen(), STILL)
    X = pose(Rz(0.3) @ Rx(1.0), [10.0, 20.0, -5.0])
    stage.move("yoke", X)
    actors = stage.actors("yoke")
    assert len(actors) == 2
    for actor in actors:
        np.testing.assert_allclose(actor.user_matrix, X, rtol=0.0, atol=1e-12)


def test_a_moved_thing_is_seen_where_it_went(stage) -> None:
    stage.solid("block", cube(), RED, STILL)
    assert colour(stage, [0, 0, 0]) == (255, 0, 0)
    stage.move("block", at(40.0, 0.0, 25.0))
    assert colour(stage, [0, 0, 0]) == WHITE
    assert colour(stage, [40, 0, 25]) == (255, 0, 0)


def test_a_pose_may_stretch(stage) -> None:
    stage.solid("boot", cube(), RED, STILL)
    stage.move("boot", np.diag([3.0, 1.0, 1.0, 1.0]))
    assert colour(stage, [28, 0, 0]) == (255, 0, 0)
    assert colour(stage, [32, 0, 0]) == WHITE


@pytest.mark.parametrize("perspective", [True, False])
def test_points_are_projected_to_where_they_are_seen(stage, perspective) -> None:
    camera = Camera(np.array([3.0, 4.0, 5.0]), np.array([0.4, 1.0, 0.3]), UP, 130.0)
    stage.aim(camera, perspective)
    place = np.array([20.0, 12.0, -15.0])
    stage.solid("spot", cube(2.0), RED, at(*place))
    image = stage.image()
    rows, columns = np.nonzero((image == (255, 0, 0)).all(axis=-1))
    middle = [columns.mean() + 0.5, image.shape[0] - rows.mean() - 0.5]
    np.testing.assert_allclose(stage.project(place), middle, rtol=0.0, atol=1.0)


def test_in_perspective_the_span_holds_at_the_focus(stage) -> None:
    stage.aim(CAMERA, perspective=True)
    ends = stage.project(np.array([[0.0, 0.0, -55.0], [0.0, 0.0, 55.0]]))
    np.testing.assert_allclose(ends[:, 1], [0.0, SIZE[1]], rtol=0.0, atol=1e-6)
    near = stage.project(np.array([[0.0, 40.0, -55.0], [0.0, 40.0, 55.0]]))
    assert np.ptp(near[:, 1]) > SIZE[1]


def test_what_is_on_top_is_never_hidden(stage) -> None:
    stage.solid("wall", cube(30.0), RED, at(0.0, 50.0, 0.0))
    stage.solid("behind", cube(), GREEN, STILL)
    assert colour(stage, [0, 0, 0]) == (255, 0, 0)
    stage.solid("mark", cube(5.0), GREEN, STILL, on_top=True)
    assert colour(stage, [0, 0, 0]) == (0, 255, 0)


def test_hidden_faded_and_seen_again(stage) -> None:
    stage.solid("block", cube(), RED, STILL)
    stage.show("block", False)
    assert colour(stage, [0, 0, 0]) == WHITE
    stage.show("block", True)
    stage.fade("block", 0.5)
    red, green, blue = colour(stage, [0, 0, 0])
    assert red == 255
    assert green == blue
    assert abs(green - 128) <= 2
    stage.fade("block", 1.0)
    assert colour(stage, [0, 0, 0]) == (255, 0, 0)


def test_what_is_put_up_under_a_hidden_name_is_hidden_too(stage) -> None:
    stage.solid("block", cube(), RED, STILL)
    stage.show("block", False)
    stage.solid("block", cube(20.0), GREEN, STILL)
    assert colour(stage, [0, 0, 0]) == WHITE


def test_words_stand_where_they_were_moved_and_take_each_others_place(stage) -> None:
    black = Letters(20.0, bold=True)
    stage.words("label", "MMMM", np.zeros(3), black, Plate((0.0, 0.0, 1.0), 1.0))
    stage.move("label", at(-20.0, 0.0, 10.0))
    image = stage.image()
    rows, columns = np.nonzero((image == (0, 0, 255)).all(axis=-1))
    corner = stage.project(np.array([-20.0, 0.0, 10.0]))
    assert abs(columns.min() - corner[0]) < 8
    assert abs((image.shape[0] - rows.max()) - corner[1]) < 8
    wide = np.ptp(columns)
    stage.words("label", "M", np.zeros(3), black, Plate((0.0, 0.0, 1.0), 1.0))
    _, columns = np.nonzero((stage.image() == (0, 0, 255)).all(axis=-1))
    assert np.ptp(columns) < 0.6 * wide
    stage.remove("label")
    assert (stage.image() >= PAPER).all()


def test_a_pick_finds_the_nearest_dense_thing_and_the_point(stage) -> None:
    stage.solid("near", cube(), RED, at(0.0, 40.0, 0.0))
    stage.solid("far", cube(), GREEN, STILL)
    stage.image()
    place = stage.project(np.zeros(3))
    found = stage.pick(*place)
    assert found.name == "near"
    np.testing.assert_allclose(found.point, [0.0, 50.0, 0.0], rtol=0.0, atol=0.3)
    stage.fade("near", 0.2)
    assert stage.pick(*place).name == "far"
    stage.show("far", False)
    assert stage.pick(*place).name == "near"
    stage.show("near", False)
    assert stage.pick(*place) is None


def test_a_pick_follows_what_was_moved(stage) -> None:
    stage.solid("block", cube(), RED, STILL)
    stage.image()
    stage.move("block", at(30.0, 0.0, 20.0))
    assert stage.pick(*stage.project(np.zeros(3))) is None
    assert stage.pick(*stage.project(np.array([30.0, 0.0, 20.0]))).name == "block"


def test_edges_behind_metal_do_not_show_through_in_a_close_up(stage) -> None:
    """A level grid far behind must not blur the depths of what is near."""
    stage.solid("plate", box((-40.0, -2.0, -40.0), (40.0, 2.0, 40.0), "plate"), RED, STILL)
    stage.lines("plate", np.array([[[-30.0, -2.0, 0.0], [30.0, -2.0, 0.0]]]), Pen(width=3.0), STILL)
    stage.solid("far", cube(), GREEN, at(0.0, -9000.0, 0.0))
    stage.solid("beside the eye", cube(1.0), GREEN, at(0.0, 250.0, 90.0))
    stage.aim(CAMERA, perspective=True)
    assert colour(stage, [0, 0, 0]) == (255, 0, 0)
    stage.aim(Camera(np.zeros(3), -LEFT, UP, 110.0), perspective=True)
    assert colour(stage, [0, 0, 0]) == (0, 0, 0)


def test_pens_grow_with_the_scale_of_the_screen(stage) -> None:
    widths = []
    level = np.array([[[-30.0, 0.0, 0.0], [30.0, 0.0, 0.0]]])
    for scale in (1.0, 2.0):
        stage.scale = scale
        stage.lines("line", level, Pen(width=6.0), STILL)
        column = stage.image()[:, SIZE[0] // 2].max(axis=-1)
        widths.append((255.0 - column).sum() / 255.0)
        stage.remove("line")
    np.testing.assert_allclose(widths, [6.0, 12.0], rtol=0.0, atol=1.0)


def test_letters_grow_with_the_scale_once_whatever_the_density_of_the_screen(stage) -> None:
    """A window on a dense screen tells VTK its density too; letters grew by both."""
    tall = {}
    for scale, dots in ((1.0, 72), (2.0, 72), (2.0, 144)):
        stage.scale = scale
        stage._window.SetDPI(dots)
        stage.words("words", "HHH", np.zeros(3), Letters(20.0))
        rows = np.flatnonzero((stage.image() < 128).any(axis=(1, 2)))
        tall[scale, dots] = rows[-1] - rows[0] + 1
        stage.remove("words")
    assert tall[2.0, 72] == pytest.approx(2 * tall[1.0, 72], rel=0, abs=2)
    assert tall[2.0, 144] == pytest.approx(tall[2.0, 72], rel=0, abs=1)


class Told:
    """A window that tells of another driver."""

    def __init__(self, window, driver: str) -> None:
        self._window, self._driver = window, driver

    def __getattr__(self, name: str):
        return getattr(self._window, name)

    def ReportCapabilities(self) -> str:
        return f"OpenGL vendor string:  Mesa\nOpenGL renderer string:  {self._driver}\nsoftware"


@pytest.mark.parametrize(
    "driver", ["llvmpipe (LLVM 15.0.6, 256 bits)", "SwiftShader", "GDI Generic"]
)
def test_no_edge_is_smooth_on_the_screen_without_a_graphics_card(plotter, driver: str) -> None:
    """Such a driver says that it is done long before it is, and seemed quick."""
    stage = PyVistaStage(plotter, repaint=lambda: None)
    stage._window = Told(stage._window, driver)
    stage._renderer = Timed(stage._renderer, [0.001])
    for _ in range(2 * PATIENCE):
        stage.draw()
    assert plotter.render_window.GetMultiSamples() == 0
    stage.close()


def test_edges_are_smooth_in_pictures_and_where_the_driver_is_quick(plotter) -> None:
    stage = PyVistaStage(plotter, repaint=lambda: None)
    stage._window = Told(stage._window, "a card of some make")
    took = [0.001]
    stage._renderer = Timed(stage._renderer, took)
    samples = plotter.render_window.GetMultiSamples

    def draw(seconds: float, times: int) -> None:
        took[0] = seconds
        for _ in range(times):
            stage.draw()

    draw(0.001, PATIENCE - 1)
    draw(0.05, 1)
    draw(0.001, PATIENCE - 1)
    assert samples() == 0, "not before it has shown that it is quick"
    draw(0.001, 1)
    assert samples() == SAMPLES
    draw(1.0, PATIENCE - 1)
    draw(0.05, 1)
    draw(1.0, PATIENCE - 1)
    assert samples() == SAMPLES, "one slow drawing is no slow driver"
    draw(1.0, 1)
    assert samples() == 0
    with stage.finest():
        assert samples() == SAMPLES
    assert samples() == 0
    stage.close()


def test_a_name_makes_way_for_a_verdict_and_comes_back(plotter) -> None:
    stage = PyVistaStage(plotter)
    stage.aim(Camera(np.zeros(3), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0]), 400.0))
    framed = Plate((1.0, 1.0, 1.0), 0.9, (0.5, 0.0, 0.0))
    stage.words("verdict", "joint touches", np.zeros(3), Letters(14.0))
    stage.words("verdict", "joint touches", np.zeros(3), Letters(14.0), framed)
    stage.words("name", "crossmember", np.zeros(3), Letters(14.0))
    stage.image()
    name, verdict = stage.things["name"].words.actor, stage.things["verdict"].words.actor
    assert tuple(verdict.GetDisplayOffset()) == (0, 0)
    assert abs(name.GetDisplayOffset()[1]) > 10
    stage.show("verdict", False)
    stage.image()
    assert tuple(name.GetDisplayOffset()) == (0, 0)
    stage.close()


class Timed:
    """A renderer that says how long it took."""

    def __init__(self, renderer, took) -> None:
        self._renderer, self._took = renderer, took

    def __getattr__(self, name):
        return getattr(self._renderer, name)

    def GetLastRenderTimeInSeconds(self):
        return self._took[0]


@pytest.mark.slow
def test_nothing_is_left_after_closing() -> None:
    kinds = ("Actor", "Thing", "PyVistaStage")

    def held():
        gc.collect()
        return sum(type(each).__name__ in kinds for each in gc.get_objects())

    before = held()
    plotter = pv.Plotter(off_screen=True, window_size=list(SIZE), lighting="none")
    stage = PyVistaStage(plotter)
    for number in range(5):
        stage.solid(f"block {number}", cube(), RED, STILL)
        stage.words(f"block {number}", "block", np.zeros(3), Letters(12.0))
    stage.image()
    renderers = plotter.render_window.GetRenderers().GetNumberOfItems()
    stage.close()
    assert plotter.render_window.GetRenderers().GetNumberOfItems() == renderers - 2
    assert not plotter.renderer.actors
    plotter.close()
    del stage, plotter
    assert held() == before


def test_removing_takes_the_actors_out_of_the_renderer(stage, plotter) -> None:
    stage.solid("block", cube(), RED, STILL)
    stage.solid("mark", cube(), RED, STILL, on_top=True)
    before = plotter.renderer.GetActors().GetNumberOfItems()
    stage.remove("block")
    stage.remove("mark")
    stage.remove("never was there")
    assert plotter.renderer.GetActors().GetNumberOfItems() == before - 1
    assert (stage.image() >= PAPER).all()


def test_all_is_grey_and_comes_back_in_its_colours(plotter) -> None:
    """By the pixels: red, green and blue are one where all is grey, words and what comes too."""
    stage = PyVistaStage(plotter)
    stage.backdrop((0.5, 0.5, 0.5), (0.5, 0.5, 0.5))
    stage.aim(Camera(np.zeros(3), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0]), 400.0))
    red = (0.8, 0.0, 0.0)
    stage.solid("cube", cube(), RED, np.diag([3.0, 3.0, 3.0, 1.0]))
    stage.words("said", "touches", np.zeros(3), Letters(14.0), Plate((1.0, 1.0, 1.0), 1.0, red))

    def spread_of_channels() -> int:
        return int(np.ptp(stage.image().astype(int), axis=-1).max())

    before = stage.image()
    assert spread_of_channels() > 60
    stage.grey(True)
    stage.lines("later", np.array([[[-90.0, 0.0, 90.0], [90.0, 0.0, 90.0]]]), Pen(red, 5.0), STILL)
    assert spread_of_channels() <= 2
    assert np.ptp(stage.image()) > 60, "it can still be read"
    stage.remove("later")
    stage.grey(False)
    np.testing.assert_array_equal(stage.image(), before)
    stage.close()


def test_words_take_on_the_density_of_the_screen_the_window_has_come_to(plotter) -> None:
    """Their box is found anew: once two that were placed for a coarse screen lay on each other."""
    stage = PyVistaStage(plotter)
    stage.aim(Camera(np.zeros(3), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0]), 400.0))
    stage.words("said", "pinion joint 10.0°", np.zeros(3), Letters(14.0))
    stage.image()
    coarse = np.ptp(stage.things["said"].words.box, axis=0)
    stage.scale = 2.0
    plotter.render_window.SetDPI(2 * plotter.render_window.GetDPI())
    stage.image()
    fine = np.ptp(stage.things["said"].words.box, axis=0)
    np.testing.assert_allclose(fine, 2.0 * coarse, rtol=0.1)
    stage.close()


def test_words_that_stand_off_have_a_line_to_what_they_speak_of(plotter) -> None:
    """In a column of dark px between the words and the ball that they keep out of."""
    stage = PyVistaStage(plotter)
    stage.backdrop((0.5, 0.5, 0.5), (0.5, 0.5, 0.5))
    stage.aim(Camera(np.zeros(3), np.array([0.0, 1.0, 0.0]), np.array([0.0, 0.0, 1.0]), 400.0))
    bare = stage.image()
    framed = Plate((1.0, 1.0, 1.0), 1.0, (0.5, 0.0, 0.0))
    stage.words("said", "joint", np.array([0.0, 0.0, 150.0]), Letters(14.0), framed, clear=40.0)
    middle, rim, put = stage.project(np.array([[0.0] * 3, [0.0, 0.0, 40.0], [0.0, 0.0, 150.0]]))
    changed = (stage.image() != bare).any(axis=-1)[::-1]
    column = changed[:, round(middle[0]) - 2 : round(middle[0]) + 3].any(axis=1)
    assert column[round(rim[1]) + 2 : round(put[1]) - 2].all()
    assert not changed[: round(rim[1]) - 2].any()
    stage.remove("said")
    np.testing.assert_array_equal(stage.image(), bare)
    stage.close()


LEFT_HALF, RIGHT_HALF = Region(0.0, 0.0, 160.0, 220.0), Region(160.0, 0.0, 160.0, 220.0)


@pytest.fixture
def inset(stage):
    stage.keep_to(LEFT_HALF)
    made = stage.inset(RIGHT_HALF)
    made.backdrop((0.0, 0.0, 1.0))
    made.aim(CAMERA)
    return made


def pixel(stage, x, y):
    """Colour at a place of the window, px from its lower left corner."""
    image = stage.image()
    return tuple(image[image.shape[0] - 1 - round(y), round(x)].tolist())


def test_an_inset_is_cut_open_where_its_eye_looks(stage, inset) -> None:
    # The eye looks along -y: what is left of the focus lies before it, and is not there.
    inset.solid("before", box((-20, 1, -20), (20, 30, 20), "block"), RED, STILL)
    inset.solid("behind", box((-8, -30, -8), (8, -5, 8), "block"), GREEN, STILL)
    middle, aside = inset.project(np.array([[0.0, 0.0, 0.0], [14.0, 0.0, 0.0]]))
    assert pixel(stage, 160.0 + middle[0], middle[1]) == (0, 255, 0)
    assert pixel(stage, 160.0 + aside[0], aside[1]) == (0, 0, 255)
    # Cut through, a closed body shows its inside.
    inset.aim(replace(CAMERA, focus=np.array([0.0, 10.0, 0.0])))
    assert pixel(stage, 160.0 + aside[0], aside[1]) == (255, 0, 0)


@pytest.mark.usefixtures("inset")
def test_shaft_and_inset_each_keep_to_their_part_of_the_window(stage) -> None:
    stage.aim(CAMERA, perspective=False)
    stage.solid("block", cube(60.0), RED, STILL)
    assert pixel(stage, 80, 110) == (255, 0, 0)
    assert pixel(stage, 155, 110) == (255, 0, 0)
    assert pixel(stage, 165, 110) == (0, 0, 255)
    x, y = stage.project(np.zeros(3))
    assert (x, y) == (80.0, 110.0)
    assert stage.pick(x, y).name == "block"
    assert stage.pick(240.0, 110.0) is None


def test_what_is_drawn_on_the_page_of_an_inset_lies_over_it_until_it_is_wiped(stage, inset) -> None:
    inset.solid("behind", cube(40.0), GREEN, STILL)
    assert inset.size == (160, 220)
    inset.area(np.array([[[40.0, 60.0], [120.0, 60.0], [80.0, 160.0]]]), (1.0, 0.0, 0.0))
    inset.stroke(np.array([[[0.0, 20.0], [160.0, 20.0]]]), Pen((0.0, 0.0, 0.0), 9.0))
    assert pixel(stage, 240, 100) == (255, 0, 0)
    assert pixel(stage, 200, 20) == (0, 0, 0)
    before = stage.image()
    inset.write("Gap", (50.0, 180.0), Letters(20.0))
    assert (stage.image() != before)[:, 160:].any()
    assert not (stage.image() != before)[:, :160].any()
    inset.wipe()
    assert pixel(stage, 240, 100) == (0, 255, 0)


def test_the_px_of_an_inset_are_those_of_letters_on_a_dense_screen(stage, inset) -> None:
    stage.scale = 2.0
    again = stage.inset(RIGHT_HALF)
    assert again is inset
    assert inset.size == (80, 110)
    inset.area(np.array([[[30.0, 45.0], [50.0, 45.0], [40.0, 65.0]]]), (1.0, 0.0, 0.0))
    assert pixel(stage, 160 + 80, 100) == (255, 0, 0)


def test_an_inset_that_is_folded_away_leaves_the_window_to_the_shaft(stage, inset) -> None:
    inset.solid("behind", cube(40.0), GREEN, STILL)
    inset.area(np.array([[[40.0, 60.0], [120.0, 60.0], [80.0, 160.0]]]), (1.0, 0.0, 0.0))
    stage.aim(CAMERA, perspective=False)
    stage.solid("block", cube(200.0), RED, STILL)
    open_, beside = stage.image(), pixel(stage, 80, 110)
    stage.keep_to(None)
    assert stage.inset(None) is inset
    assert pixel(stage, 240, 110) == pixel(stage, 80, 110) == beside
    stage.keep_to(LEFT_HALF)
    stage.inset(RIGHT_HALF)
    np.testing.assert_array_equal(stage.image(), open_)
