"""The pressure on a trunnion as it is drawn: nothing but what was computed, told by shape too."""

from itertools import pairwise

import numpy as np
import pytest

from sim.bearing.needles import STATIC_PRESSURE
from sim.cocked import Cocked, Corner, PressureMap, cocked, stated
from sim.rig.demos import load_demo
from sim.seen.words import CAPS
from tests.viewer.recording_stage import RecordingStage
from viewer.draw.base import BLACK, WHITE, grey_of
from viewer.draw.camera import Region
from viewer.scene.pressed import LEVELS, SHADES, draw_unrolled, fine_map, level_lines, shaded
from viewer.scene.pressed_trunnion import TrunnionSkin, press_on

STEPS, ROWS = 36, 12
ANGLE = (np.arange(STEPS) + 0.5) * (2.0 * np.pi / STEPS) - np.pi
ALONG = (np.arange(ROWS) + 0.5) - 0.5 * ROWS


def sloped(most: float = 5000.0) -> PressureMap:
    """Rising evenly from the cross outward, alike all round; MPa."""
    rise = (ALONG + 0.5 * ROWS) / ROWS * most
    pressure = np.repeat(rise[None], STEPS, axis=0)
    return PressureMap(ANGLE, ALONG, pressure, np.ones(STEPS, dtype=bool))


def striped() -> PressureMap:
    """The same, untouched at every third place."""
    found = sloped()
    passed = np.arange(STEPS) % 3 > 0
    return PressureMap(ANGLE, ALONG, found.pressure * passed[:, None], passed)


@pytest.fixture(scope="module")
def joint() -> Cocked:
    return cocked(load_demo("timber-crew-carrier"), "pinion", stated(3e-3, 1e-3))


def unrolled(found: PressureMap, corners: tuple[Corner, ...] = ()) -> RecordingStage:
    stage = RecordingStage((1600, 700))
    draw_unrolled(stage, Region(20.0, 20.0, 1560.0, 660.0), found, corners)
    return stage


def test_the_last_level_is_what_hardened_steel_takes():
    assert LEVELS[-1] == STATIC_PRESSURE
    assert len(SHADES) == len(LEVELS) + 1


def test_shades_darken_in_colour_and_in_grey():
    lightness = [grey_of(shade)[0] for shade in SHADES]
    assert all(a > b + 0.02 for a, b in pairwise(lightness))


def test_every_place_has_the_shade_of_its_pressure():
    """Closed form: a pressure that rises evenly has each level at its own height."""
    covered = 0.0
    for number, low, high in shaded(sloped()):
        middle = 0.5 * (low[:, 1] + high[:, 1])
        pressure = np.clip((middle + 6.0) / 12.0, 0.5 / ROWS, 1.0 - 0.5 / ROWS) * 5000.0
        assert (np.searchsorted(LEVELS, pressure) == number).all()
        covered += float(np.prod(high - low, axis=1).sum())
    assert covered == pytest.approx(2.0 * np.pi * 12.0, rel=1e-9)


def test_lines_lie_at_their_levels():
    for level, lines in level_lines(sloped()):
        assert lines[..., 1] == pytest.approx(level / 5000.0 * 12.0 - 6.0, abs=1e-6)
        seamless = lines[(np.abs(lines[..., 0]) <= np.pi + 0.1).all(axis=1)]
        assert float(np.abs(np.diff(seamless[..., 0])).sum()) > 2.0 * np.pi


def test_where_no_needle_comes_by_nothing_is_drawn():
    found = striped()
    places = np.concatenate([0.5 * (low + high)[:, 0] for _, low, high in shaded(found)])
    at = np.argmin(np.abs(places[:, None] - ANGLE), axis=1)
    assert found.passed[at].all()
    assert set(at) == set(np.flatnonzero(found.passed))
    _, _, pressure = fine_map(found)
    assert np.isnan(pressure[1:-1][~found.passed]).all()


def test_past_the_limit_it_is_hatched_and_ringed():
    hard = [call for call in unrolled(sloped()).of("stroke") if call.told["pen"].colour == WHITE]
    soft = [
        call for call in unrolled(sloped(3900.0)).of("stroke") if call.told["pen"].colour == WHITE
    ]
    assert len(hard) > len(soft)
    widths = {call.told["pen"].width for call in unrolled(sloped()).of("stroke")}
    assert 3.5 in widths


@pytest.mark.parametrize("way", ["drive", "coast"])
@pytest.mark.parametrize("end", ["inner", "outer"])
def test_a_corner_is_a_triangle_that_points_at_it(way, end):
    """Filled on drive, hollow on coast; beyond the edge of the map, at its own place round it."""
    corner = Corner(way, end, 0.5 * np.pi, 2.0, end)
    plain, marked = unrolled(sloped()), unrolled(sloped(), (corner,))
    more = [
        call for call in marked.of("area")
        if not any(_same(call, other) for other in plain.of("area"))
    ]  # fmt: skip
    assert len(more) == 1
    tip, *base = more[0].told["triangles"][0]
    assert more[0].told["colour"] == (BLACK if way == "drive" else WHITE)
    assert all((b[1] > tip[1]) == (end == "outer") for b in base)
    frame = [c.told["segments"] for c in plain.of("stroke") if len(c.told["segments"]) == 4]
    chart = max(frame, key=lambda s: float(np.ptp(s[..., 0])))
    left, right = chart[..., 0].min(), chart[..., 0].max()
    assert tip[0] == pytest.approx(left + 0.75 * (right - left), abs=0.5)


def _same(call, other) -> bool:
    a, b = call.told["triangles"], other.told["triangles"]
    return a.shape == b.shape and np.array_equal(a, b)


def test_words_stay_within_the_region():
    stage = unrolled(sloped())
    said = " ".join(stage.said())
    for word in (
        "drive side",
        "coast side",
        "toward",
        "bottom",
        "100 %",
        "a dent stays",
        "not pressed",
    ):
        assert word in said
    for call in stage.of("area"):
        x, y = call.told["triangles"][..., 0], call.told["triangles"][..., 1]
        assert x.min() >= 20.0
        assert x.max() <= 1580.0
        assert y.min() >= 20.0
        assert y.max() <= 680.0


@pytest.mark.parametrize("cap", CAPS)
def test_on_the_cross_it_lies_on_the_skin_of_its_own_trunnion(cap, joint):
    skin = TrunnionSkin(cap, joint.at)
    trunnion = joint.at.trunnion
    pieces = list(shaded(joint.caps[cap].map, fine=1))
    assert len(pieces) > 1
    for _, low, high in pieces:
        mesh = skin.patch(low, high)
        along = mesh.vertices @ skin.e
        off = np.linalg.norm(mesh.vertices - along[:, None] * skin.e, axis=1)
        assert off == pytest.approx(skin.radius, abs=1e-9)
        assert np.abs(along - trunnion.arm).max() <= 0.5 * trunnion.needle_length + 1e-9
        corners = mesh.vertices[mesh.faces]
        middle = corners.mean(axis=1)
        outward = middle - (middle @ skin.e)[:, None] * skin.e
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        assert (np.einsum("ni,ni->n", normal, outward) > 0.0).all()


@pytest.mark.parametrize("cap", CAPS)
def test_the_side_that_drive_presses_is_drawn_where_it_presses(cap, joint):
    """The middle of the drive side lies toward d, which pushes the caps the way of the turn."""
    skin = TrunnionSkin(cap, joint.at)
    place = skin.at(np.array([0.0, 0.0]))
    assert place == pytest.approx(joint.at.trunnion.arm * skin.e + skin.radius * skin.d, abs=1e-12)
    toward = skin.at(np.array([0.5 * np.pi, 1.0]))
    assert toward @ skin.a == pytest.approx(skin.radius, abs=1e-12)
    assert toward @ skin.e == pytest.approx(joint.at.trunnion.arm + 1.0, abs=1e-12)


def test_a_cone_stands_off_the_skin_at_each_corner(joint):
    stage = RecordingStage()
    found = joint.caps["shaft_a"]
    skin = TrunnionSkin("shaft_a", joint.at)
    press_on(stage, "pressed", skin, found.map, found.corners, np.eye(4))
    solids = stage.things["pressed"].solids
    cones = [(mesh, paint) for mesh, paint, _ in solids if mesh.label_names == ("corner",)]
    assert len(cones) == len(found.corners) > 0
    for (mesh, paint), corner in zip(cones, found.corners, strict=True):
        tip = mesh.vertices[0]
        along = tip @ skin.e - joint.at.trunnion.arm
        assert along * (1.0 if corner.end == "outer" else -1.0) > 0.0
        assert np.arctan2(tip @ skin.a, tip @ skin.d) == pytest.approx(corner.angle, abs=1e-9)
        assert paint.colour == (BLACK if corner.way == "drive" else WHITE)
        off = mesh.vertices - (mesh.vertices @ skin.e)[:, None] * skin.e
        assert np.linalg.norm(off, axis=1).min() > skin.radius
        assert mesh.is_watertight
        assert mesh.volume > 0.0


@pytest.mark.needs_gl
def test_it_is_drawn_and_readable_without_colour(joint: Cocked) -> None:
    """The bands of a real map differ in grey by more than a printer blurs."""
    from PIL import Image

    from viewer.draw.pyvista_paper import PyVistaPaper

    paper = PyVistaPaper((1600, 700))
    try:
        found = joint.caps["shaft_a"]
        draw_unrolled(paper, Region(20.0, 20.0, 1560.0, 660.0), found.pulled.map, found.corners)
        grey = np.asarray(Image.fromarray(paper.image()).convert("L"))
    finally:
        paper.close()
    assert len(np.unique(grey // 16)) >= 8
    assert 0.02 < float((grey < 200).mean()) < 0.9
