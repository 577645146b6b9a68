"""What all built parts share: nobody changes them, and they travel between processes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from types import MappingProxyType
from typing import Any


class Built:
    """Base of frozen dataclasses that hold meshes and mappings by name.

    The mappings become read-only copies. Such a view cannot be pickled, so a part is sent as
    what it was made from and made again.
    """

    def __post_init__(self) -> None:
        for name, value in self._values():
            if isinstance(value, Mapping):
                object.__setattr__(self, name, MappingProxyType(dict(value)))

    def __reduce__(self) -> tuple[Any, tuple[Any, ...]]:
        """Return how to make this part again from plain things."""
        plain = [dict(v) if isinstance(v, Mapping) else v for _, v in self._values()]
        return type(self), tuple(plain)

    def _values(self) -> list[tuple[str, Any]]:
        return [(item.name, getattr(self, item.name)) for item in fields(self)]  # type: ignore[arg-type]
