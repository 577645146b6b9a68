"""Print what geometry and sim need to run and be tested, at the lowest versions that are declared.

The list goes to `uv pip compile --resolution lowest-direct`, which fixes each at its floor.
"""

import sys
import tomllib
from pathlib import Path

VIEWER_ONLY = (
    "typer",
    "rich",
    "matplotlib",
    "pyvista",
    "pyvistaqt",
    "vtk",
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
