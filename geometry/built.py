"""What all built parts share: nobody changes them, and they travel between processes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Protocol, TypeVar, cast

from geometry.mesh import Mesh

P_co = TypeVar("P_co", covariant=True)


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


class Buildable(Protocol[P_co]):
    """Dimensions that a part is built from: frozen, and equal where they make the same part."""

    def build(self) -> P_co:
        """Return the part."""

    def __hash__(self) -> int:
        """Return the same for equal dimensions."""


def built(shape: Buildable[P_co]) -> P_co:
    """Return the part of a shape; while few others are asked for, it is built once."""
    return cast(P_co, _built(shape))


class Touching(Protocol):
    """Dimensions of which what can touch is made alone: frozen, and equal where it is the same."""

    def touching(self) -> Mesh:
        """Return what can touch."""

    def __hash__(self) -> int:
        """Return the same for equal dimensions."""


def touching(shape: Touching) -> Mesh:
    """Return what can touch of a shape; while few others are asked for, it is made once."""
    return cast(Mesh, _touching(shape))


@lru_cache(maxsize=16)
def _touching(shape: Any) -> Any:
    return shape.touching()


@lru_cache(maxsize=16)
def _built(shape: Any) -> Any:
    return shape.build()
