"""Where the program keeps what it remembers between runs, and small files of plain data in it."""

import json
import os
from contextlib import suppress
from pathlib import Path
from typing import Any

from platformdirs import user_state_path

from sim.kept.atomic import replace_file

FOLDER_VARIABLE = "BINDPOINT_STATE"
"""Environment variable naming another folder."""

LARGEST = 4_000_000
"""Bytes. What the program writes is far smaller; a larger file is something else."""


def state_folder() -> Path:
    """The folder; it need not be there yet."""
    named = os.environ.get(FOLDER_VARIABLE)
    return Path(named) if named else user_state_path("bindpoint", appauthor=False)


def recall(file: Path) -> Any:
    """Plain data of a file; None where there is none that can be read."""
    with suppress(OSError, ValueError, RecursionError):
        if file.stat().st_size <= LARGEST:
            return json.loads(file.read_text(encoding="utf-8"))
    return None


def keep(file: Path, data: Any) -> None:
    """Write plain data, replacing the file as a whole. Raises OSError when that fails."""
    file.parent.mkdir(parents=True, exist_ok=True)
    replace_file(file, json.dumps(data, indent=1).encode())


def remember(file: Path, data: Any) -> None:
    """The same; what cannot be kept is lost, nothing more."""
    with suppress(OSError):
        keep(file, data)
