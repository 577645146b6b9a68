"""The view with Qt and OpenGL together, in a process of its own: few tests, on a real screen.

On Linux the screen is a virtual one; what a driver does to its process stays in there.
"""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.viewer.session.conftest import RIGS

ROOT = Path(__file__).parents[3]

pytestmark = [pytest.mark.needs_gl, pytest.mark.slow]


def run(scale: str) -> dict:
    """What the child saw at a density of the screen."""
    before = ["xvfb-run", "-a"] if sys.platform.startswith("linux") else []
    surroundings = os.environ | {"QT_SCALE_FACTOR": scale, "PYTHONPATH": str(ROOT)}
    surroundings.pop("QT_QPA_PLATFORM", None)
    rig = str(RIGS / "long-legged-trail-wagon.toml")
    child = [sys.executable, "-m", "tests.viewer.window.gl_child", rig]
    done = subprocess.run(
        before + child,
        cwd=ROOT,
        env=surroundings,
        capture_output=True,
        text=True,
        timeout=240,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])


@pytest.mark.parametrize("scale", ["1", "2"])
def test_open_look_click_close(scale) -> None:
    told = run(scale)
    for seen in told["seen"]:
        assert seen["ratio"] == float(scale)
        # Sizes of stage and picture are those of the screen, at any density.
        width, height = seen["widget"]
        assert seen["stage"] == pytest.approx([width * float(scale), height * float(scale)], abs=1)
        assert seen["picture"] == pytest.approx([seen["stage"][1], seen["stage"][0], 3], abs=1)
        # Metal has many shades; a driver that draws nothing leaves a few.
        assert min(seen["colours"]) > 500
        assert seen["changed"]
        assert seen["picked"] == ["tube"]
        # No number is seen beside a shaft in another pose.
        assert len(seen["seen together"]) > 3
        assert [number for number, _ in seen["seen together"]] == [
            drawn for _, drawn in seen["seen together"]
        ]
    first, second = told["held"]
    assert second <= first
