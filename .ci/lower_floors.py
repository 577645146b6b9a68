"""Print what geometry and sim need to run and be tested: all but pictures and windows."""

import sys
import tomllib
from pathlib import Path

VIEWER_ONLY = (
    "typer",
    "rich",
    "matplotlib",
    "pyvista",
    "pyvistaqt",
    "PyQt6",
    "pytest-qt",
    "psygnal",
    "contourpy",
    "reportlab",
    "pillow",
)

project = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text("utf-8"))
wanted = [
    *project["project"]["dependencies"],
    *project["project"]["optional-dependencies"]["tests"],
]
kept = [name for name in wanted if not name.startswith(VIEWER_ONLY)]
sys.stdout.write("\n".join(kept) + "\n")
