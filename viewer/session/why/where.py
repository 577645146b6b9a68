"""Where in an inspection a sign is told: the rule that reads it is asked on a blank one."""

from functools import cache
from typing import Any, Final

from sim.causes.codes import SeenCode
from sim.seen import Inspection
from sim.seen.signs import SIGNS
from sim.table.structure import tables

_TABLES: Final = frozenset(".".join(map(str, path)) for path, _ in tables(Inspection))


class _Blank:
    """An inspection that says nothing, and writes down what it was asked."""

    def __init__(self, asked: list[str], path: str = "") -> None:
        self._asked, self._path = asked, path

    def __getattr__(self, key: str) -> Any:
        path = f"{self._path}.{key}" if self._path else key
        if path in _TABLES and path != "marks":
            return _Blank(self._asked, path)
        self._asked.append(path)
        return None

    def cap(self, name: str) -> "_Blank":
        """A cap by its name."""
        return _Blank(self._asked, f"caps.{name}")

    def yoke(self, name: str) -> "_Blank":
        """A yoke by its name."""
        return _Blank(self._asked, f"yokes.{name}")


@cache
def told_at(sign: SeenCode) -> tuple[str, ...]:
    """Key paths that the rule of a sign reads, in its order."""
    asked: list[str] = []
    SIGNS[sign](_Blank(asked), None)  # type: ignore[arg-type]
    return tuple(dict.fromkeys(asked))
