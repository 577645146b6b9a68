"""Errors typed behind what a remedy changes: a measurement keeps its error, a design has none.

A place that moves by a shim or a spacer is as well known as it was read. What the shop builds to a
number, such as a strap or a new slip, was not read at all; each remedy names those keys, `builds`.
"""

import re
from collections.abc import Collection
from functools import cache
from typing import Annotated, Any, Final

from pydantic import TypeAdapter, ValidationError

from sim.rig.keys import keys_by_path
from sim.units import behind

ALWAYS_BUILT: Final = ("shaft.tube",)
"""Tables of which nothing is moved or turned: another number is another part."""

_ENTRY: Final = re.compile(r"\[\d+\]")


def with_error_of(old: str, new: str, key: str, built: Collection[str]) -> str:
    """The new text at a key path with what was typed behind the old one, where it still holds.

    built : key paths, of whole tables too, of what the shop builds. An error that a file would
    refuse there, such as one larger than the new value, is left out.
    """
    said = f"{new} {behind(old)}"
    keeps = behind(old) and not behind(new) and not is_built(key, built) and _can_be(key, said)
    return said if keeps else new


def is_built(key: str, built: Collection[str]) -> bool:
    """Whether a key path is one of those, or lies within one of them."""
    tables = (*ALWAYS_BUILT, *built)
    return any(key == each or key.startswith((f"{each}.", f"{each}[")) for each in tables)


def _can_be(key: str, said: str) -> bool:
    """Whether a file may have this text there; coordinates of a point have any error."""
    if key.endswith("]"):
        return True
    read = _reader(_ENTRY.sub("", key))
    if read is None:
        return False
    try:
        read.validate_python(said)
    except ValidationError:
        return False
    return True


@cache
def _reader(key: str) -> TypeAdapter[Any] | None:
    """What reads a key of the schema; None of one that it has not by name."""
    known = keys_by_path().get(key)
    if known is None:
        return None
    _, field = known
    # The checks of a field of plain type stand beside its type.
    whole: Any = Annotated[field.annotation, *field.metadata, None]
    return TypeAdapter(whole)
