"""The picture of where metal met: patches told by shape as well as color, in sight, numbered."""

from dataclasses import replace
from functools import cache
from itertools import pairwise
from math import pi

import numpy as np
import pytest

from sim.assessment import Assessor
from sim.marks import Marks, SeenMark, backward, marks_of
from sim.rig.demos import load_demo
from tests.viewer.recording_stage import RecordingStage
from viewer.draw.base import grey_of
from viewer.draw.camera import Region
from viewer.scene.met import MetPicture, framed, hours, met_picture, seen_place
from viewer.scene.met_patch import BANDS, met_pieces, rim_of
from viewer.scene.parts import SceneError
from viewer.words.met import NO_MARKS, made_lines

pytestmark = pytest.mark.slow

HOUR = pi / 6.0


@cache
def marks(name: str = "marsh-runner") -> Marks:
    return marks_of(Assessor().assess(load_demo(name)), "pinion")


def drawn(picture: MetPicture) -> RecordingStage:
    stage = RecordingStage(picture.size)
    picture.draw(stage, stage.region)
    return stage


def test_every_mark_stands_on_its_own_yoke_hatched_and_rimmed() -> None:
    found = marks()
    picture = met_picture("a rig", found)
    stage = drawn(picture)
    solids = [call.told["name"] for call in stage.of("solid") if "met " in call.told["name"]]
    assert len(set(solids)) == len(found.forced)
    lines = [call.told["name"] for call in stage.of("lines")]
    assert set(solids) <= set(lines)
    assert sum(len(yoke.marks) for yoke in picture.yokes) == len(found.forced)


def test_pieces_lie_on_the_metal_of_the_patch_and_cover_it() -> None:
    for mark in marks().forced:
        patch = mark.patch
        pieces = met_pieces(patch)
        area = sum(float(piece.mesh.areas.sum()) for piece in pieces)
        mesh, depth = patch.surface_mesh()
        assert area == pytest.approx(
            float(mesh.areas.sum()), rel=0.15, abs=0.5
        )  # a little off the metal
        assert depth.max() == pytest.approx(patch.depth, abs=1e-9)
        rim = rim_of(patch)
        assert len(rim)
        for piece in pieces:
            away = np.linalg.norm(piece.mesh.triangles.mean(axis=1)[:, None] - patch.points, axis=2)
            assert away.min(axis=1).max() < 2.0
            # The hatching of a piece is on it.
            assert piece.lines.size == 0 or np.isfinite(piece.lines).all()


def test_the_deeper_the_darker_and_the_closer_hatched() -> None:
    greys = [grey_of(band.colour)[0] for band in BANDS]
    assert greys == sorted(greys, reverse=True)
    assert min(a - b for a, b in pairwise(greys)) > 0.1
    pitches = [band.pitch for band in BANDS]
    assert pitches == sorted(pitches, reverse=True)


def test_both_yokes_are_seen_straight_from_the_cross_with_a_plain_clock() -> None:
    """12 is up and 3 on the right of either yoke, as on a clock: none is seen from aside."""
    picture = met_picture("a rig", marks())
    for yoke in picture.yokes:
        camera = framed(yoke, Region(0.0, 0.0, 600.0, 500.0))
        assert np.allclose(camera.toward, (-1.0, 0.0, 0.0))
        twelve, three, six, nine = (
            camera.project(hours(yoke, hour, 1.0), Region(0.0, 0.0, 600.0, 500.0))[0]
            for hour in (12, 3, 6, 9)
        )
        assert twelve[1] > three[1] > six[1]
        assert nine[0] < twelve[0] < three[0]
        assert twelve[0] == pytest.approx(six[0])
        assert three[1] == pytest.approx(nine[1])


def test_each_kind_is_said_once_and_numbered_wherever_it_is_in_sight() -> None:
    stage = drawn(met_picture("a rig", marks()))
    said = stage.said()
    for line in ("ear tip, 12 and 6 o'clock", "throat, 3 and 9 o'clock"):
        assert said.count(line) == 1
    assert said.count("1") >= 4
    assert any("does not prove" in line for line in said)
    assert {"12", "3", "6", "9"} <= set(said)


def test_a_seen_mark_is_put_where_it_was_read() -> None:
    found = marks()
    place = seen_place(found, SeenMark("end", "throat", 3 * HOUR))
    assert place is not None
    at, out = place
    dents = [m.patch for m in found.forced if m.on == "end" and m.patch.surface == "throat"]
    deepest = next(patch.deepest for patch in dents if abs((patch.clock or 0) - 3 * HOUR) < 0.1)
    assert np.linalg.norm(at - deepest) < 4.0
    assert np.linalg.norm(out) == pytest.approx(1.0)
    assert seen_place(found, SeenMark("end", "throat")) is None
    assert seen_place(found, SeenMark("end", "no such surface", 0.0)) is None
    plain = drawn(met_picture("a rig", found)).said()
    seen = drawn(met_picture("a rig", found, [SeenMark("end", "throat", 3 * HOUR)])).said()
    assert "seen" in seen
    assert "seen" not in plain


def test_at_touch_is_told_from_forced() -> None:
    first = met_picture("a rig", marks(), forced=False)
    assert "as it first touches" in first.headline
    assert "forced" in met_picture("a rig", marks()).headline
    depths = [m.patch.depth for yoke in first.yokes for m in yoke.marks]
    assert 0.3 < max(depths) <= 0.5 + 1e-3


def test_no_touch_is_said() -> None:
    picture = met_picture("a rig", marks("goat-path-buggy"))
    assert "no metal meets" in picture.headline
    assert drawn(picture).said().count(NO_MARKS) == 2
    rig = Assessor().assess(load_demo("goat-path-buggy"))
    further = met_picture(
        "a rig", marks_of(rig, "pinion", bend=marks("goat-path-buggy").touch + 0.03)
    )
    assert "never bends so far" in further.headline
    assert "This axle bends it 27.3° at most" in further.lines[-1]
    with pytest.raises(SceneError):
        replace(picture, yokes=())


def test_what_made_a_mark_in_words() -> None:
    found = Assessor().assess(load_demo("marsh-runner"))
    tip, side = (backward(found, "pinion", SeenMark("shaft", "ear tip", c)) for c in (0.0, 1.57))
    first, second = made_lines(tip)
    assert first.startswith("ear tip at 12 o'clock: met by the ")
    assert "from 26.3° of bend on" in first
    assert "droop" in second
    assert "nose down" in second
    assert made_lines(side) == [
        "ear tip at 3 o'clock: the other yoke reaches it at no bend. Something else made that mark."
    ]
    clear = Assessor().assess(load_demo("goat-path-buggy"))
    never = made_lines(backward(clear, "pinion", SeenMark("shaft", "ear tip", 0.0)))
    assert "No pose of this axle bends the joint so far (27.3° at most)" in never[1]
