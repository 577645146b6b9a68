"""Values that a rig file leaves out: filled in from the generic defaults, and listed as assumed."""

from collections.abc import Iterable
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

from sim.remark import Remark
from sim.rig.defaults import DEFAULTS
from sim.table.default import Data, at


@dataclass(frozen=True)
class Assumed:
    """A value that was left out of the file and taken from a generic default."""

    key: str
    """Key path, such as `travel.roll`."""
    value: Any
    """The value as it would be typed in the file."""
    why: str

    @property
    def remark(self) -> Remark:
        """What is to be said of it."""
        value = f"[{', '.join(self.value)}]" if isinstance(self.value, list) else str(self.value)
        return Remark("assumed", self.key, what=self.key, value=value, why=self.why)


def fill(data: Data) -> tuple[dict[str, Any], tuple[Assumed, ...]]:
    """Copy the data of a file with every default filled in, and tell which ones were."""
    filled = deepcopy(dict(data))
    assumed = []
    for default in DEFAULTS:
        says_so = (default.key, *default.unless)
        if any(at(filled, key) not in (None, {}) for key in says_so):
            continue
        if default.when and at(filled, default.when) is None:
            continue
        value = default.typed(filled)
        if value is None:
            continue
        if _put(filled, default.key, value):
            assumed.append(Assumed(default.key, value, default.why))
    return filled, tuple(assumed)


def without(data: Data, assumed: Iterable[Assumed]) -> dict[str, Any]:
    """Copy the data without the assumed values, nor the tables they leave empty."""
    kept = deepcopy(dict(data))
    for each in assumed:
        _drop(kept, each.key.split("."))
    return kept


def _put(data: dict[str, Any], key: str, value: Any) -> bool:
    """Set a value, making tables on the way; False where something else stands in the way."""
    *tables, last = key.split(".")
    here: Any = data
    for table in tables:
        here = here.setdefault(table, {})
        if not isinstance(here, dict):
            return False
    here[last] = value
    return True


def _drop(table: dict[str, Any], path: list[str]) -> None:
    first, *rest = path
    if not rest:
        table.pop(first, None)
    elif isinstance(table.get(first), dict):
        _drop(table[first], rest)
        if not table[first]:
            del table[first]
