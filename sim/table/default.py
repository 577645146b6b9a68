"""A generic value for a key that a rig file leaves out."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Data = Mapping[str, Any]
"""A rig file as plain data."""


@dataclass(frozen=True)
class Default:
    """A value for a key that is left out, and when it applies."""

    key: str
    value: Any
    """Typed value, or a function from the file's data to it."""
    why: str
    unless: tuple[str, ...] = ()
    """Key paths any of which says the same, so that the default does not apply."""
    when: str = ""
    """Key path that must be there for the default to apply."""

    def typed(self, data: Data) -> Any:
        """The value for a file that says `data`."""
        return self.value(data) if callable(self.value) else self.value


def at(data: Data, key: str) -> Any:
    """What stands at a key path, or None."""
    here: Any = data
    for part in key.split("."):
        if not isinstance(here, Mapping):
            return None
        here = here.get(part)
    return here
