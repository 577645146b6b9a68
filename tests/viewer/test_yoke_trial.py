"""A mesh file is read on trial: what stands in its place, what has to be asked, what is refused."""

from pathlib import Path

import pytest
from trimesh.creation import box

from sim.parts.catalogue import cross_shape
from tests import demo_scans
from viewer.yoke.trial import FOUND, PICTURE, Trial, found, main, trial

WELD = demo_scans.WELD.path
OPEN = demo_scans.STRAP.path
FITS, LARGER = "27 x 82", "30 x 92"


def test_a_clean_scan_stands_in_its_place_with_the_unit_that_its_size_tells() -> None:
    told, made = trial(WELD, "", FITS)
    assert made is not None
    assert (told.state, told.unit) == ("placed", "in")
    bores = dict(told.rows)["Bores"]
    # The scan is of the catalogue's yoke for this cross, with noise: tests/demo_scans.py.
    assert float(bores.split()[0]) * 25.4 == pytest.approx(cross_shape(FITS).cap_diameter, abs=0.1)
    assert list(told.sizes) == ["in"]


def test_what_a_scan_lacks_is_doubted_before_it_is_taken() -> None:
    told, made = trial(OPEN, "", FITS)
    assert told.state == "placed"
    assert made is not None
    assert len(told.doubts) == len(made.report.checks) > 1, "every one of them"
    assert "hole" in told.doubts[0], "the gravest comes first"


def test_bores_that_fit_no_cap_of_the_cross_ask_for_the_unit_and_are_doubted() -> None:
    asked, made = trial(WELD, "", LARGER)
    assert made is None
    assert asked.state == "asks"
    assert {"mm", "in"} <= set(asked.sizes)
    assert asked.sizes["in"] == "inches: 4.49 in (114 mm) long"
    told, _ = trial(WELD, "in", LARGER)
    assert told.state == "placed"
    assert any("cap" in doubt for doubt in told.doubts)


def test_what_has_no_bores_is_refused_in_words(tmp_path: Path) -> None:
    brick = tmp_path / "brick.stl"
    box((120.0, 80.0, 60.0)).export(brick)
    told, made = trial(brick, "mm", FITS)
    assert made is None
    assert told.state == "refused"
    assert "bore" in told.says


def test_a_file_that_is_gone_is_refused(tmp_path: Path) -> None:
    assert trial(tmp_path / "gone.stl", "", FITS)[0].state == "refused"


@pytest.mark.slow
@pytest.mark.needs_gl
def test_the_program_leaves_what_it_found_and_a_picture(tmp_path: Path) -> None:
    assert main(str(tmp_path), str(WELD), "", FITS) == 0
    assert found(tmp_path) == trial(WELD, "", FITS)[0]
    assert (tmp_path / PICTURE).read_bytes().startswith(b"\x89PNG")


def test_half_an_answer_is_none(tmp_path: Path) -> None:
    assert found(tmp_path) is None
    whole = Trial("asks", "which?", sizes={"mm": "mm"}).text()
    for text in (whole[:-4], "[]", "{}"):
        (tmp_path / FOUND).write_text(text)
        assert found(tmp_path) is None
    (tmp_path / FOUND).write_text(whole)
    assert found(tmp_path) == Trial("asks", "which?", sizes={"mm": "mm"})
