"""The customer view with Qt and OpenGL over a window that has a view too, on a real screen."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.viewer.session.conftest import RIGS

ROOT = Path(__file__).parents[3]


@pytest.mark.needs_gl
@pytest.mark.slow
def test_two_views_live_side_by_side_and_one_leaves_nothing_behind() -> None:
    before = ["xvfb-run", "-a"] if sys.platform.startswith("linux") else []
    surroundings = os.environ | {"PYTHONPATH": str(ROOT)}
    surroundings.pop("QT_QPA_PLATFORM", None)
    rig = str(RIGS / "long-legged-trail-wagon.toml")
    done = subprocess.run(
        [*before, sys.executable, "-m", "tests.viewer.window.gl_customer_child", rig],
        cwd=ROOT,
        env=surroundings,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    told = json.loads(done.stdout.splitlines()[-1])
    for seen in told["seen"]:
        # Metal has many shades; a driver that draws nothing leaves a few.
        assert min(seen["colours"]) > 500
        assert seen["changed"] > 0.01
        assert seen["at"] == pytest.approx(-25.4, abs=1e-9)
    assert min(told["window"]) > 500, "the window's own view draws before and after"
    first, second = told["held"]
    assert second <= first
