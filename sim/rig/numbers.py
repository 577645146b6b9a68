"""Every length and angle of a rig, by its key path."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import BaseModel

from sim.rig.choice import Choice
from sim.units import Angle, Length

Step = str | int


def numbers_in(
    held: Any, path: tuple[Step, ...] = ()
) -> Iterator[tuple[tuple[Step, ...], Length | Angle]]:
    """Path and value of every length and angle of a part of a rig, in the order of the file.

    Entries of a list count from 0; own dimensions of a part stand under their catalogue names.
    """
    if isinstance(held, Length | Angle):
        yield path, held
    elif isinstance(held, BaseModel):
        for name in type(held).model_fields:
            yield from numbers_in(getattr(held, name), (*path, name))
        if isinstance(held, Choice):
            for name, own in held.own.items():
                yield from numbers_in(own, (*path, name))
    elif isinstance(held, tuple):
        for place, each in enumerate(held):
            yield from numbers_in(each, (*path, place))


def key_of(path: tuple[Step, ...]) -> str:
    """The key path as it is written; entries of a list count from 1."""
    key = ""
    for step in path:
        key += f"[{step + 1}]" if isinstance(step, int) else f".{step}" if key else step
    return key
