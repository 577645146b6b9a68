"""All that a rig says, as one text: what was typed, and what is in the files that it names."""

from __future__ import annotations

import json
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

from sim.rig.rig import Rig


def content_of(rig: Rig) -> str:
    """The same for two rigs of which everything is the same, wherever they were read from.

    Raises OSError for a file that cannot be read.
    """
    typed = rig.typed()
    files = {name: _digest(rig.folder / name) for name in _files(typed)}
    return json.dumps([typed, files], sort_keys=True)


def _files(data: Any) -> Iterator[str]:
    """Names of the files that a rig speaks of."""
    if isinstance(data, dict):
        if isinstance(data.get("file"), str):
            yield data["file"]
        for value in data.values():
            yield from _files(value)
    elif isinstance(data, list):
        for value in data:
            yield from _files(value)


def _digest(file: Path) -> str:
    with file.open("rb") as stream:
        digest = sha256()
        while block := stream.read(1 << 20):
            digest.update(block)
    return digest.hexdigest()
