"""Pictures of yokes to choose from: what is drawn where, and under which name it is kept."""

from pathlib import Path

import pytest

from sim.parts.catalogue import CatalogueError, yoke_kinds, yoke_shape
from tests.viewer.recording_stage import RecordingStage
from viewer.scene.parts import SceneError
from viewer.scene.yoke_shelf import EDGE, YokeShelf, cell, shown_parts
from viewer.yoke.shelf import main, shelf_place


def test_every_yoke_is_wholly_in_its_own_place() -> None:
    kinds = yoke_kinds()[:5]
    shelf = YokeShelf(tuple(shown_parts(yoke_shape(kind, "27 x 82").build()) for kind in kinds))
    stage = RecordingStage(shelf.size)
    shelf.draw(stage, stage.region)
    assert shelf.size == (4 * EDGE, 2 * EDGE)
    for number, parts in enumerate(shelf.yokes):
        region, camera = stage.regions[f"yoke {number}"], stage.cameras[f"yoke {number}"]
        left, top = cell(number)
        assert (region.left, region.top) == (left, shelf.size[1] - top)
        for part in parts:
            seen = camera.project(part.in_chassis, region)
            low, high = region.corners
            assert (seen >= low).all()
            assert (seen <= high).all()
    assert stage.said() == []


def test_a_shelf_without_yokes_is_refused() -> None:
    with pytest.raises(SceneError, match="got none"):
        YokeShelf(())


def test_pictures_are_named_by_what_the_yokes_are(tmp_path: Path) -> None:
    assert shelf_place("27 x 82", tmp_path) == shelf_place("1310", tmp_path)
    assert shelf_place("27 x 82", tmp_path) != shelf_place("30 x 92", tmp_path)


def test_an_unknown_size_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(CatalogueError, match="no cross"):
        shelf_place("huge")
    assert main("huge") == 1
    assert "huge" in capsys.readouterr().err
