import tomllib

import pytest

from geometry.imported import imported_yoke
from tests.demo_scans import DEMOS, FOLDER, INVENTED, STRAP, WELD, DemoScan
from tests.geometry.scan_like import off_by


@pytest.mark.slow
@pytest.mark.parametrize("demo", DEMOS, ids=lambda demo: demo.file)
def test_demo_scans_are_small_invented_and_come_back(demo: DemoScan) -> None:
    data = demo.path.read_bytes()
    assert len(data) < 1_000_000
    assert INVENTED in data[:200]
    found = imported_yoke(demo.path)
    assert found.report.unit.mm == demo.mm
    placement = found.report.placement
    degrees, mm = off_by(placement.R_YM, placement.p_YM_Y, *demo.X)
    assert degrees < 0.05
    assert mm < 0.05
    assert found.yoke.contact.is_watertight
    assert placement.bores is not None
    assert placement.bores.confidence > 0.9


@pytest.mark.slow
def test_what_is_wrong_with_the_open_one_is_told() -> None:
    report = imported_yoke(STRAP.path).report
    assert report.repair.specks == 9
    assert report.repair.holes == 2
    assert report.repair.large_holes == 1
    assert any(note.code == "large-holes" for note in report.notes)


def test_every_demo_scan_is_described() -> None:
    described = tomllib.loads((FOLDER / "scans.toml").read_text(encoding="utf-8"))
    assert "invention" in described.pop("source")
    assert set(described) == {demo.file for demo in DEMOS}
    assert {path.name for path in FOLDER.iterdir()} == {*described, "scans.toml"}
    assert WELD.file in described
