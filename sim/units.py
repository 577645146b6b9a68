"""Lengths and angles as a shop types them, and as a result prints them.

A length may be typed as ``36 5/16 in``, ``36-5/16"``, ``3' 0-5/16"``, ``36.3125 in``, ``922 mm``
or ``92.2 cm``; an angle as ``3 1/4 deg``, ``3.25°``, ``3° 15'`` or ``0.0567 rad``. The unit is
always required, since a shop holds drawings in inches and flanges in millimetres. Typographic
quotes, dashes, spaces and fraction characters are read like their plain forms. A comma is
refused, because it may be a decimal sign or a thousands sign.

Behind the value may stand how far off it may be, ``36 5/16 in +- 1/8 in``, or the tool it was read
with, ``3 deg by digital level``.

Arithmetic is exact (fractions) up to the last step, so one typed value always gives the same
float, whichever way it is written. Inside the program lengths are millimetres and angles
radians.
"""

import math
import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from fractions import Fraction
from functools import lru_cache
from typing import Final, Literal

from geometry.errors import BindpointError

Dimension = Literal["length", "angle"]

EXAMPLES: Final[Mapping[Dimension, tuple[str, str]]] = {
    "length": ("36 5/16 in", "922 mm"),
    "angle": ("3 1/4 deg", "0.05 rad"),
}
MM_PER_INCH: Final = Fraction(254, 10)
LONGEST_TEXT: Final = 80
"""A measurement is short; a longer text is something else and is not worth parsing."""

_FEET = "ft"
_INCHES = "in"
_DEGREES = "deg"
_MINUTES = "arcmin"
_SECONDS = "arcsec"

# Millimetres, or degrees, in one unit, exact but for the radian [SP811]: all that may be typed.
_FACTORS: Final[Mapping[Dimension, Mapping[str, Fraction]]] = {
    "length": {
        "mm": Fraction(1),
        "cm": Fraction(10),
        "m": Fraction(1000),
        _INCHES: MM_PER_INCH,
        _FEET: 12 * MM_PER_INCH,
        "yd": 36 * MM_PER_INCH,
        "thou": MM_PER_INCH / 1000,
        "um": Fraction(1, 1000),
        "dm": Fraction(100),
        "km": Fraction(1_000_000),
        "mile": 63_360 * MM_PER_INCH,
    },
    "angle": {
        _DEGREES: Fraction(1),
        _MINUTES: Fraction(1, 60),
        _SECONDS: Fraction(1, 3600),
        "rad": Fraction(180 / math.pi),
        "mrad": Fraction(180 / math.pi) / 1000,
        "gon": Fraction(9, 10),
        "turn": Fraction(360),
    },
}


def _spelt(words: Mapping[str, str]) -> Mapping[str, str]:
    """The unit of every spelling; one that ends with (s) has a plural too."""
    spelt = [(each, unit) for unit, spellings in words.items() for each in spellings.split()]
    return {
        spelling: unit
        for each, unit in spelt
        for spelling in dict.fromkeys((each.replace("(s)", ""), each.replace("(s)", "s")))
    }


_SPELLINGS: Final[Mapping[Dimension, Mapping[str, str]]] = {
    "length": _spelt(
        {
            _FEET: "' foot feet",
            _INCHES: '" inch inches ins',
            "mm": "millimetre(s) millimeter(s)",
            "cm": "centimetre(s) centimeter(s)",
            "m": "metre(s) meter(s)",
            "yd": "yard(s)",
            "thou": "thous",
            "um": "\N{GREEK SMALL LETTER MU}m micron(s) micrometre(s) micrometer(s)",
            "dm": "decimetre(s) decimeter(s)",
            "km": "kilometre(s) kilometer(s)",
            "mile": "mi miles",
        }
    ),
    "angle": _spelt(
        {
            _MINUTES: "' arcminute(s)",
            _SECONDS: '" arcsecond(s)',
            _DEGREES: "° degs degree(s)",
            "rad": "rads radian(s)",
            "mrad": "milliradian(s)",
            "gon": "grad(s) gons",
            "turn": "turns rev revolution(s)",
        }
    ),
}
# What may follow what inside one value, and how much of it makes one of the unit before.
_CHAINS: Final[Mapping[tuple[str, str], int]] = {
    (_FEET, _INCHES): 12,
    (_DEGREES, _MINUTES): 60,
    (_MINUTES, _SECONDS): 60,
}

_ALIKE: Final = str.maketrans(
    {
        **dict.fromkeys("″”“„‟〃", '"'),
        **dict.fromkeys("′’‘‛`´", "'"),
        **dict.fromkeys("‐‑‒–—―−﹣－", "-"),
        **dict.fromkeys("º˚", "°"),
        "⁄": "/",
        "∕": "/",
    }
)
_RAISED: Final = "⁰¹²³⁴⁵⁶⁷⁸⁹"
_TERM: Final = re.compile(
    r"""(?P<number>
            (?:(?P<whole>[0-9]+)[ -])? (?P<top>[0-9]+)/(?P<bottom>[0-9]+)   # 36 5/16, 5/16
          | (?P<decimal>[0-9]+\.?[0-9]*|\.[0-9]+)                          # 36, 36.3125, .5
        )
        \s* (?P<unit>['"°]|[^\W\d_]+\.?|) \s*
    """,
    re.VERBOSE,
)
_ERROR, _TOOL = r"\s*(?:\+-|\+/-|±)\s*", r"\s+by\b\s*"
_BEHIND: Final = re.compile(
    rf"(?P<value>.*?)(?={_ERROR}|{_TOOL})"
    rf"(?:{_TOOL}(?P<before>[^±+]*?))?(?:{_ERROR}(?P<error>.*?))?(?:{_TOOL}(?P<tool>.*))?",
    re.DOTALL,
)
"""A value with what stands behind it: +- an error, by a tool, or both."""
_DIRECTIONS: Final = frozenset({"up", "down", "left", "right", "nose up", "nose down"})


class UnitsError(BindpointError, ValueError):
    """A text that is not a measurement of the kind expected.

    `came` is the text, `why` what is wrong with it, `expected` what would be right.
    """

    def __init__(self, came: str, why: str, expected: str) -> None:
        self.came = came
        self.why = why
        self.expected = expected
        super().__init__(f"came {_shortened(came)} ({why}), expected {expected}")


@dataclass(frozen=True, slots=True)
class Off:
    """How far off a typed value may be: by so much, 95 of 100 times, or as its tool is.

    Attributes
    ----------
    size : mm or rad, above zero; None where a tool says it.
    tool : it was read with; "" where that was not typed.
    """

    size: float | None
    tool: str = ""


@dataclass(frozen=True, slots=True)
class Length:
    """A length in millimetres together with the text that was typed for it."""

    mm: float
    typed: str

    @classmethod
    def parse(cls, text: str) -> "Length":
        """Read a typed length. Raises `UnitsError`."""
        return cls(parse_length(text), text)

    @property
    def off(self) -> Off | None:
        """How far off it may be; None where nobody typed that."""
        return _off(self.typed, "length")

    @classmethod
    def exactly(cls, mm: float) -> "Length":
        """Give a computed length a text that reads back to it within 1e-12 mm."""
        return cls.parse(f"{_plain(mm)} mm")

    def __str__(self) -> str:
        return self.typed


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle in radians together with the text that was typed for it."""

    rad: float
    typed: str

    @classmethod
    def parse(cls, text: str) -> "Angle":
        """Read a typed angle. Raises `UnitsError`."""
        return cls(parse_angle(text), text)

    @property
    def off(self) -> Off | None:
        """How far off it may be; None where nobody typed that."""
        return _off(self.typed, "angle")

    @classmethod
    def exactly(cls, rad: float) -> "Angle":
        """Give a computed angle a text that reads back to it within 1e-13 rad."""
        return cls.parse(f"{_plain(math.degrees(rad))} deg")

    @property
    def deg(self) -> float:
        """The angle in degrees."""
        return math.degrees(self.rad)

    def __str__(self) -> str:
        return self.typed


def parse_length(text: str) -> float:
    """Millimetres in a typed length. Raises `UnitsError`."""
    return float(_parse(text, "length"))


def parse_angle(text: str) -> float:
    """Radians in a typed angle. Raises `UnitsError`."""
    return math.radians(_parse(text, "angle"))


@lru_cache(maxsize=4096)
def _parse(text: str, dimension: Dimension) -> Fraction:
    """Value of `text` in millimetres or degrees; a rig that is changed is read again and again."""
    value, error, tool = _apart(text)
    if error is not None or tool is not None:
        _off(text, dimension)
    return _value(text, value, dimension)


def _apart(text: str) -> tuple[str, str | None, str | None]:
    """The value, what stands behind +- and what behind by; None where that is not there."""
    found = _BEHIND.fullmatch(text)
    if found is None:
        return text, None, None
    tool = found["before"] if found["tool"] is None else found["tool"]
    return found["value"], found["error"], tool


def behind(text: str) -> str:
    """What stands behind the value of a typed text: its error, its tool or both; "" for nothing."""
    found = _BEHIND.fullmatch(text)
    return "" if found is None else text[found.end("value") :].strip()


@lru_cache(maxsize=4096)
def _off(text: str, dimension: Dimension) -> Off | None:
    """How far off a typed value may be. Raises `UnitsError` for an error that is none."""
    _, error, tool = _apart(text)
    tool = None if tool is None else " ".join(tool.split())
    if tool == "":
        raise UnitsError(text, "no tool after by", 'the tool it was read with, such as "by tape"')
    if error is None:
        return None if tool is None else Off(None, tool)
    one = {"length": "1/8 in", "angle": "1/2 deg"}[dimension]
    expected = f'how far off it may be, above zero and with its unit, such as "+- {one}"'
    try:
        size = _value(error, error, dimension)
    except UnitsError as fault:
        raise UnitsError(text, f"behind +-: {fault.why}", expected) from None
    if size <= 0:
        why = "an error of zero" if size == 0 else "a negative error"
        raise UnitsError(text, why, expected)
    number = float(size) if dimension == "length" else math.radians(size)
    return Off(number, tool or "")


def _value(text: str, value: str, dimension: Dimension) -> Fraction:
    """Value of the part of a text before its error, in millimetres or degrees."""
    one, other = EXAMPLES[dimension]
    article = "an" if dimension == "angle" else "a"
    expected = f'{article} {dimension} with its unit, such as "{one}" or "{other}"'
    if len(text) > LONGEST_TEXT:
        raise UnitsError(text, f"longer than {LONGEST_TEXT} characters", expected)
    plain = _plain_characters(value)
    if not plain:
        raise UnitsError(text, "empty", expected)
    if "," in plain:
        raise UnitsError(
            text, "a comma can be read two ways", f"{expected}, with a point for decimals"
        )
    sign = -1 if plain.startswith("-") else 1
    rest = plain.removeprefix("-" if sign < 0 else "+").lstrip()
    try:
        return sign * _terms(rest, dimension)
    except _UnreadableError as fault:
        raise UnitsError(text, str(fault), expected) from None


class _UnreadableError(Exception):
    """What is wrong with a text, before the text itself is put beside it."""


def _terms(text: str, dimension: Dimension) -> Fraction:
    """Sum of the terms of an unsigned value, each a number and its unit."""
    total = Fraction(0)
    before: tuple[Fraction, str] | None = None
    while True:
        term = _TERM.match(text)
        if term is None:
            raise _UnreadableError(_leftover(text) if before else "not a number with a unit")
        unit = _unit_name(term["unit"].rstrip("."), term["number"], dimension)
        value = _number(term, after=before is not None)
        if dimension == "angle" and before is None and term["unit"] in {"'", '"'}:
            raise _UnreadableError(f"{term['unit']} without degrees before it measures a length")
        if before is not None:
            _check_chain(*before, value, unit)
        total += value * _FACTORS[dimension][unit]
        text = text[term.end() :]
        if not text:
            return total
        if not any(unit == first for first, _ in _CHAINS):
            raise _UnreadableError(_leftover(text))
        before = value, unit
        text = text.removeprefix("-").lstrip()


def _leftover(text: str) -> str:
    if text in _DIRECTIONS:
        return f'the direction "{text}" is said by the key, not by the value'
    return f'"{text}" left over after the unit'


def _number(match: re.Match[str], after: bool) -> Fraction:
    """Exact value of a matched number; `after` another one, such as feet.

    A tape shows 6/16 as well as 3/8, and a drawing may say 581/16 by itself; but a fraction that
    goes with a whole number, or is one whole, was misread.
    """
    if match["decimal"] is not None:
        return Fraction(match["decimal"])
    top, bottom = int(match["top"]), int(match["bottom"])
    if bottom == 0:
        raise _UnreadableError(f"{top}/{bottom} divides by zero")
    alone = match["whole"] is None and not after
    if top == bottom or (top > bottom and not alone):
        raise _UnreadableError(f"{top}/{bottom} is a whole or more; was the fraction misread?")
    return int(match["whole"] or 0) + Fraction(top, bottom)


def _check_chain(first: Fraction, first_unit: str, second: Fraction, unit: str) -> None:
    """Refuse a term that cannot follow the one before, such as 14 in after feet."""
    most = _CHAINS.get((first_unit, unit))
    if most is None:
        raise _UnreadableError(f"{unit} cannot follow {first_unit}")
    if first.denominator != 1:
        raise _UnreadableError(f"{float(first):g} {first_unit} is not whole, yet {unit} follow")
    if second >= most:
        raise _UnreadableError(f"{most} {unit} or more after {first_unit}; was it misread?")


def _unit_name(spelt: str, number: str, dimension: Dimension) -> str:
    """The name in `_FACTORS` of a unit as spelt."""
    if not spelt:
        raise _UnreadableError(f"no unit after {number}")
    low = spelt.lower()
    name = _SPELLINGS[dimension].get(low, low)
    if name in _FACTORS[dimension]:
        return name
    other: Dimension = "angle" if dimension == "length" else "length"
    if _SPELLINGS[other].get(low, low) in _FACTORS[other]:
        raise _UnreadableError(f"{spelt} measures {_article(other)}")
    if low in _TWO_MEANINGS:
        raise _UnreadableError(f"{spelt} has two meanings; write {_TWO_MEANINGS[low]}")
    close = get_close_matches(low, [*_FACTORS[dimension], *_SPELLINGS[dimension]], 1)
    hint = f"; did you mean {close[0]}?" if close else ""
    raise _UnreadableError(f"unknown unit {spelt}{hint}")


_TWO_MEANINGS: Final[Mapping[str, str]] = {
    "mil": "thou for a length, mrad for an angle",
    "mils": "thou for a length, mrad for an angle",
}


def _plain_characters(text: str) -> str:
    """The text with typographic look-alikes in their plain form and single spaces."""
    spaced = []
    for before, character in zip(" " + text, text, strict=False):
        is_fraction = "VULGAR FRACTION" in unicodedata.name(character, "")
        is_raised = character in _RAISED and before not in _RAISED
        spaced.append(f" {character}" if is_fraction or is_raised else character)
    alike = "".join(spaced).translate(_ALIKE)
    folded = unicodedata.normalize("NFKC", alike).translate(_ALIKE)
    return " ".join(folded.replace("''", '"').split())


def _article(dimension: Dimension) -> str:
    return "an angle" if dimension == "angle" else "a length"


def _plain(value: float) -> str:
    """A decimal without exponent, with twelve places and no idle zeros."""
    if not math.isfinite(value):
        raise UnitsError(str(value), "not a finite number", "a number that can be written down")
    text = f"{value:.12f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _shortened(text: str) -> str:
    shown = text if len(text) <= LONGEST_TEXT else text[: LONGEST_TEXT - 3] + "..."
    printable = "".join(c if c.isprintable() else "�" for c in shown)
    return f'"{printable}"'
