"""What is wrong with a rig file, as data and as lines to read."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from typing import Any, Final

from geometry.errors import BindpointError
from geometry.printable import shown
from sim.remark import Remark

MOST_LINES: Final = 40
"""Problems told in one message; the rest is counted."""
_LONGEST_VALUE: Final = 60
_LONGEST_ARRAY: Final = 90
"""Two points with all their units fit."""
NOTHING: Final = "nothing"
"""What came where a key is missing."""


@dataclass(frozen=True)
class Problem:
    """One thing wrong: where, what came, why that will not do, what was expected."""

    key: str
    """Path of the key, such as `shaft.slip.closes`; entries of an array count from 1."""
    came: str
    expected: str | Remark
    why: str | Remark = ""
    file: str = "rig"

    def __str__(self) -> str:
        """One line, the numbers of remarks with their codes; `viewer.words.problems` words them."""
        place = f"{self.key}: " if self.key else ""
        why = f" ({self.why})" if self.why else ""
        return shown(f"{self.file}: {place}{self.found}{why}, expected {self.expected}")

    @property
    def found(self) -> str:
        """What came, to begin a sentence with: ``nothing typed``, ``no such file``, ``came 3``."""
        if self.came == NOTHING:
            return f"{NOTHING} typed"
        return f"came {self.came}" if self.key else self.came  # of a whole file: what it is


class RigError(BindpointError, ValueError):
    """A rig file that cannot be used; `problems` holds everything found, not just the first."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        lines = [str(problem) for problem in self.problems[:MOST_LINES]]
        if left := len(self.problems) - MOST_LINES:
            lines += [f"and {left} more"] if left > 0 else []
        super().__init__("\n".join(lines))

    def __str__(self) -> str:
        """One line a problem."""
        return Exception.__str__(self)


def one_problem(file: str, key: str, came: str, expected: str, why: str = "") -> RigError:
    """Build an error of a single problem."""
    return RigError([Problem(key, came, expected, why, file)])


def in_file(file: str, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Put the file's name on problems, without repeats and in the order they came."""
    return tuple(dict.fromkeys(replace(problem, file=file) for problem in problems))


def dotted(path: Iterable[str | int]) -> str:
    """Join a key path: keys with points, places in an array as `[1]` counted from 1."""
    text = ""
    for part in path:
        if isinstance(part, int):
            text += f"[{part + 1}]"
        else:
            text += f".{part}" if text else part
    return text


def one_of(given: str, legal: Iterable[str]) -> str:
    """Name the legal choices, the nearest one first if there is one."""
    names = list(legal)
    close = get_close_matches(given.lower(), names, 1)
    nearest = f"{close[0]}, the nearest of " if close else "one of "
    return nearest + ", ".join(names)


def _array(values: Sequence[Any]) -> str:
    """Show an array with what is in it where that is short; tables are only counted."""
    shown = f"[{', '.join(as_typed(getattr(value, 'typed', value)) for value in values)}]"
    tables = any(isinstance(value, Mapping) for value in values)
    return f"an array of {len(values)}" if tables or len(shown) > _LONGEST_ARRAY else shown


def as_typed(value: Any) -> str:
    """Show a value as it stands in the file, kept short."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        shown = "".join(c if c.isprintable() else "\N{REPLACEMENT CHARACTER}" for c in value)
        short = shown if len(shown) <= _LONGEST_VALUE else shown[: _LONGEST_VALUE - 3] + "..."
        return f'"{short}"'
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return _array(value)
    text = str(value)
    return text if len(text) <= _LONGEST_VALUE else text[: _LONGEST_VALUE - 3] + "..."
