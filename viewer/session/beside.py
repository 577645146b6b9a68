"""Files that a rig names and that lie beside it: scanned yokes and things near the shaft."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from sim.rig.atomic import replace_file
from viewer.session.document import Document

KEY = "file"
"""The key that names one, wherever it stands in a rig file."""


def left_behind(document: Document, target: Path) -> list[Path]:
    """Files seen from the rig's folder that would not be found from that of `target`."""
    if document.path is None or _same(document.path.parent, target.parent):
        return []
    here, there = document.path.parent, target.parent
    named = dict.fromkeys(_named(document.data))
    return [
        path
        for path in named
        if not path.is_absolute() and (here / path).is_file() and not (there / path).exists()
    ]


def take_along(document: Document, target: Path) -> None:
    """Copy what would be left behind; nothing that is there is overwritten.

    Raises OSError when that fails.
    """
    if document.path is None:
        return
    for path in left_behind(document, target):
        place = target.parent / path
        place.parent.mkdir(parents=True, exist_ok=True)
        replace_file(place, (document.path.parent / path).read_bytes())


def _named(data: Any) -> Iterator[Path]:
    if isinstance(data, dict):
        for key, value in data.items():
            if key == KEY and isinstance(value, str):
                yield Path(value)
            else:
                yield from _named(value)
    elif isinstance(data, list):
        for value in data:
            yield from _named(value)


def _same(one: Path, other: Path) -> bool:
    return one.absolute() == other.absolute()
