"""The inspection file being worked on."""

from collections.abc import Mapping, MutableMapping
from pathlib import Path
from typing import Any

import tomlkit

from sim.seen import Inspection, inspection_from_data
from sim.table.reading import parse_toml, read_text
from viewer.session.text.edits import typed_into
from viewer.session.text.text_file import TextFile

UNTITLED = "new inspection"

KIND = "an inspection"
"""What such a file is called where it cannot be read."""


class Inspected(TextFile):
    """An inspection open for work.

    Attributes
    ----------
    inspection : what it says; where the text is not right just now, the last one that was.
    """

    inspection: Inspection

    def __init__(self, text: str, path: Path | None = None, is_saved: bool = False) -> None:
        """Start from a text that is an inspection. Raises RigError when it is none."""
        super().__init__(text, path, is_saved=path is not None or is_saved)
        self.take_in(text)

    @classmethod
    def open(cls, path: Path) -> "Inspected":
        """Open an inspection file. Raises RigError with everything that is wrong with it."""
        return cls(read_text(path, KIND), path)

    @classmethod
    def begin(cls, rig: str, joint: str) -> "Inspected":
        """Start one of a joint of a rig, with nothing looked at yet; there is nothing to save."""
        text = tomlkit.document()
        for key, value in {"schema": 1, "kind": "inspection", "rig": rig, "joint": joint}.items():
            text[key] = value
        return cls(tomlkit.dumps(text), is_saved=True)

    @property
    def name(self) -> str:
        """What the file is called."""
        return self.path.name if self.path is not None else UNTITLED

    def take_in(self, text: str) -> None:
        """Read an inspection."""
        self.inspection = inspection_from_data(parse_toml(text, self.name, KIND), self.name)

    def set(self, values: Mapping[str, Any], name: str = "", joined: bool = False) -> None:
        """Type values at key paths; None takes a key away, and a table that has no more keys."""
        text = tomlkit.parse(self.text)
        for key, value in values.items():
            typed_into(text, key, value)
            if value is None:
                _prune(text, key.split(".")[:-1])
        self.take(tomlkit.dumps(text), name or ", ".join(values), joined)


def _prune(text: Any, path: list[str]) -> None:
    """Take away tables on a way that have nothing in them any more, the innermost first."""
    for depth in range(len(path), 0, -1):
        holder = text
        for step in path[: depth - 1]:
            holder = holder.get(step, {})
        inner = holder.get(path[depth - 1])
        if isinstance(inner, MutableMapping) and not inner:
            del holder[path[depth - 1]]
