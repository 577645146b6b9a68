"""What is asked back when an answer leaves something open: its unit, or its direction."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from geometry.errors import BindpointError
from sim.units import UnitsError, parse_angle, parse_length

LENGTHS: Final = ("in", "mm", "cm", "ft")
ANGLES: Final = ("deg",)
HELP: Final = (
    "A number alone says neither inches nor millimetres, and a wrong guess makes a scrap shaft."
)


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


def is_bare(parse: Callable[[str], float], unit: str, text: str) -> bool:
    """Whether a text is a number that lacks nothing but its unit."""
    try:
        parse(text)
    except UnitsError:
        try:
            parse(f"{text} {unit}")
        except UnitsError:
            return False
        return True
    return False


def bare_length(text: str) -> bool:
    """Whether a text is a length without its unit."""
    return is_bare(parse_length, "in", text)


def bare_angle(text: str) -> bool:
    """Whether a text is an angle without its unit."""
    return is_bare(parse_angle, "deg", text)


def ask_unit(value: str, units: Iterable[str], after: str = "") -> OpenError:
    """Ask which unit a bare number is in; `after` is what stands behind it, such as a direction."""
    known = list(units)
    whole = {unit: f"{value} {unit} {after}".strip() for unit in known}
    if len(known) == 1:
        return OpenError(Open(f"{whole[known[0]]}?", {"yes": whole[known[0]]}))
    return OpenError(Open(f"{value} of what: {_listed(known)}?", whole, usual=True))


def ask_direction(value: str, words: Iterable[str]) -> OpenError:
    """Ask which way a value goes."""
    known = list(dict.fromkeys(words))
    whole = {word: f"{value} {word}" for word in known}
    return OpenError(Open(f"{value}: {_listed(known)}?", whole))


def _listed(words: list[str]) -> str:
    return f"{', '.join(words[:-1])} or {words[-1]}" if len(words) > 1 else words[0]
