"""Runs a program of the tests that needs OpenGL and a screen, and hands over what it saw."""

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.viewer.session.conftest import RIGS

ROOT = Path(__file__).parents[3]

PATIENCE = 240
"""s it may take."""


def seen_by(program: str, **around: str) -> Any:
    """What a module of `tests.viewer.window` tells of a demo rig, its last line as JSON."""
    before = ["xvfb-run", "-a"] if sys.platform.startswith("linux") else []
    surroundings = os.environ | around | {"PYTHONPATH": str(ROOT)}
    surroundings.pop("QT_QPA_PLATFORM", None)
    rig = str(RIGS / "long-legged-trail-wagon.toml")
    command = [*before, sys.executable, "-m", f"tests.viewer.window.{program}", rig]
    heard = {"capture_output": True, "text": True, "timeout": PATIENCE}
    done = subprocess.run(command, check=False, cwd=ROOT, env=surroundings, **heard)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout.splitlines()[-1])
