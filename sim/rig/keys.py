"""Keys of a rig file by their paths."""

import re
from collections.abc import Mapping

from pydantic.fields import FieldInfo

from sim.rig.rig import Rig
from sim.table.form import Form
from sim.table.part import Part
from sim.table.structure import form_in, keys_of


def keys_by_path() -> Mapping[str, tuple[type[Part], FieldInfo]]:
    """Every key of the schema by its path, such as "suspension.links.name", with its table.

    Of several kinds of table the first that has the key.
    """
    return keys_of(Rig)


def key_at(path: str) -> tuple[type[Part], FieldInfo]:
    """Table and field of a key path, whose entries of lists may be told by number."""
    return keys_by_path()[re.sub(r"\[\d+\]", "", path)]


def form_at(path: str) -> Form:
    """Form of the key at a path; an empty one where there is no such key."""
    return form_in(Rig, path)
