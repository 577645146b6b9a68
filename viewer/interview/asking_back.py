"""What is asked back when an answer leaves something open: its unit, or its direction."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from geometry.errors import BindpointError
from sim.table.fields import OfAngle, OfLength
from sim.units import UnitsError, parse_angle, parse_length

HELP: Final = "A number alone could be inches or mm, and a wrong guess makes a scrap shaft."


@dataclass(frozen=True)
class Open:
    """What an answer leaves open.

    Attributes
    ----------
    asks : the question back, in one line.
    options : the whole answer that each word stands for.
    usual : whether a unit that was typed before may be taken for it by Enter alone.
    """

    asks: str
    options: Mapping[str, str]
    usual: bool = False


class OpenError(BindpointError, ValueError):
    """An answer that leaves something open; `left` says what."""

    def __init__(self, left: Open) -> None:
        super().__init__(left.asks)
        self.left = left


@dataclass(frozen=True)
class Measure:
    """Lengths or angles as they are answered.

    Attributes
    ----------
    parse : reads one, into mm or rad. Raises `UnitsError`.
    units : what a number alone may be meant in.
    zero, example : one of nothing, and one to show.
    """

    parse: Callable[[str], float]
    units: tuple[str, ...]
    zero: str
    example: str

    def is_bare(self, text: str) -> bool:
        """Whether a text is a number that lacks nothing but its unit."""
        try:
            self.parse(text)
        except UnitsError:
            try:
                self.parse(with_unit(text, self.units[0]))
            except UnitsError:
                return False
            return True
        return False

    def unit_asked(self, text: str, after: str = "") -> None:
        """Ask for the unit of a number that lacks it; `after` is what stands behind it."""
        if self.is_bare(text):
            raise ask_unit(text, self.units, after)


LENGTH: Final = Measure(parse_length, OfLength().units, "0 in", "2 in")
ANGLE: Final = Measure(parse_angle, OfAngle().units, "0 deg", "3 deg")


def ask_unit(value: str, units: Iterable[str], after: str = "") -> OpenError:
    """Ask which unit a bare number is in; `after` is what stands behind it, such as a direction."""
    known = list(units)
    whole = {unit: f"{with_unit(value, unit)} {after}".strip() for unit in known}
    if len(known) == 1:
        return OpenError(Open(f"{whole[known[0]]}?", {"yes": whole[known[0]]}))
    return OpenError(Open(f"{value} of what: {_listed(known)}?", whole, usual=True))


def with_unit(text: str, unit: str) -> str:
    """A number with a unit behind it; how far off it may be gets the same where it has none."""
    value, *behind = _BEHIND.split(text, maxsplit=1)
    if behind and behind[0] != "by" and behind[1][-1:].isdigit():
        behind.append(unit)
    return " ".join([value, unit, *behind])


_BEHIND: Final = re.compile(r"\s*(\+-|\+/-|±|\bby\b)\s*")
"""Between a value and how far off it may be, or the tool it was read with."""


def ask_direction(value: str, words: Iterable[str]) -> OpenError:
    """Ask which way a value goes."""
    known = list(dict.fromkeys(words))
    whole = {word: f"{value} {word}" for word in known}
    return OpenError(Open(f"{value}: {_listed(known)}?", whole))


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]
