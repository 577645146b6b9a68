"""The picture of a yoke, by the verbs it uses."""

import numpy as np
import pytest

from geometry.imported import imported_yoke
from sim.parts.catalogue import yoke_kinds, yoke_shape
from tests.demo_scans import STRAP, WELD
from tests.viewer.recording_stage import RecordingStage
from viewer.scene.parts import SceneError
from viewer.scene.yoke import YokePicture
from viewer.words.captions import caliper_length
from viewer.yoke.picture import imported_picture, measured_picture


def drawn(picture: YokePicture) -> RecordingStage:
    stage = RecordingStage((1600, 1000))
    picture.draw(stage, stage.region)
    return stage


@pytest.mark.parametrize("kind", yoke_kinds())
def test_a_measured_yoke_tells_its_numbers(kind: str) -> None:
    shape = yoke_shape(kind, "27 x 82")
    picture = measured_picture(shape, "Mine")
    text = " | ".join(drawn(picture).said())
    for says in (
        "Mine",
        "certifies nothing",
        "axis of the bores",
        "this way to the shaft",
        "cross center",
        f"floor of the throat {caliper_length(shape.throat_depth)}",
        caliper_length(shape.bore),
        "between ears",
        f"{shape.inside_span:.1f} mm",
    ):
        assert says in text
    assert "closed by the program" not in text


@pytest.mark.slow
def test_a_scan_shows_what_was_found_and_what_is_a_guess() -> None:
    made = imported_yoke(STRAP.path)
    picture = imported_picture(made)
    assert picture.guessed
    text = " | ".join(drawn(picture).said())
    assert "half-round saddles as found" in text
    assert "closed by the program: a guess" in text
    assert "strap-yoke-open.ply as it was placed" in text
    # The pieces shown are the whole scan, each triangle once, and nothing that was added.
    assert sum(len(part.mesh.faces) for part in picture.parts) == len(made.yoke.parts["body"].faces)


@pytest.mark.slow
def test_the_rings_lie_on_the_walls_of_the_bores() -> None:
    made = imported_yoke(WELD.path)
    picture = imported_picture(made)
    assert picture.bores is not None
    assert not picture.guessed
    shape = yoke_shape(WELD.kind, WELD.cross)
    half = [0.5 * shape.inside_span, 0.5 * shape.outside_span]
    np.testing.assert_allclose(
        picture.bores.ends, [-half[1], -half[0], half[0], half[1]], rtol=0, atol=0.3
    )
    np.testing.assert_allclose(picture.bores.diameter, shape.bore, rtol=0, atol=0.1)
    assert "inches" in picture.lines[0]


@pytest.mark.slow
def test_a_yoke_placed_by_picks_has_no_rings() -> None:
    R, p = WELD.X
    own = np.array([[0.0, 43.0, 0.0], [0.0, -43.0, 0.0], [80.0, 0.0, 0.0]])
    picks = (own @ R.T + p) / WELD.mm
    picture = imported_picture(imported_yoke(WELD.path, "in", picks))
    assert picture.bores is None
    text = " | ".join(drawn(picture).said())
    assert "bores as found" not in text
    assert "between ears" not in text
    assert "Placed by the three picks" in text


def test_nothing_to_draw() -> None:
    with pytest.raises(SceneError, match="needs parts"):
        YokePicture((), None, None, None, headline="Nothing")
