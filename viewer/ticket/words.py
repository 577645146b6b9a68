"""Quantities of a build ticket as a shop says them."""

from math import degrees, isfinite, pi
from textwrap import wrap

from sim.parts.catalogue import cross_sizes
from sim.units import format_fraction

WIDTH = 96
"""Columns of a ticket."""
POUND_FOOT = 1355.8179483314004
"""N mm."""
POUND = 0.45359237
"""kg."""
MILE = 1_609_344.0
"""mm."""


def row(name: str, mm: float) -> str:
    """A line of the cut list: fraction, decimals, mm."""
    return f"  {name:<62}{format_fraction(mm):>12}{mm / 25.4:>10.3f}{mm:>10.1f}"


def torque(newton_mm: float) -> str:
    """A torque in both units of a shop."""
    return f"{newton_mm / POUND_FOOT:,.0f} lb-ft ({newton_mm / 1000.0:,.0f} N m)"


def cross_name(name: str) -> str:
    """A cross as named, with its other name: "27 x 82 (1310)", "1310 (27 x 82)"."""
    for size in cross_sizes():
        others = (size.name,) if name in size.aliases else size.aliases
        if name in (size.name, *size.aliases) and others:
            return f"{name} ({', '.join(others)})"
    return name


def rpm(speed: float) -> str:
    """A speed of turning."""
    return f"{speed * 30.0 / pi:,.0f} rpm"


def road(mm_per_second: float) -> str:
    """A road speed in both units."""
    miles, kilometres = mm_per_second * 3600.0 / MILE, mm_per_second * 3.6e-3
    return f"{miles:.0f} mph ({kilometres:.0f} km/h)"


def mass(kilograms: float) -> str:
    """A mass in both units."""
    return f"{kilograms / POUND:.1f} lb ({kilograms:.2f} kg)"


def hours(value: float) -> str:
    """A life, to the two digits that mean something at most."""
    if not isfinite(value) or value > 1e5:
        return "over 100,000 h"
    return f"about {float(f'{value:.2g}'):,.0f} h"


def turned(rad: float) -> str:
    """A turn of the ears about the shaft, seen from the output toward the pinion."""
    if abs(degrees(rad)) < 0.05:
        return "in line"
    way = "clockwise" if rad > 0.0 else "counter-clockwise"
    return f"{abs(degrees(rad)):.1f} deg {way}"


def sentence(text: str) -> str:
    """A line with its stop at the end."""
    return text if text.endswith(("?", ".")) else f"{text}."


def item(text: str, hang: str = "    ") -> list[str]:
    """Lines of a text, its own indent first, then those that hang under it."""
    indent = text[: len(text) - len(text.lstrip())]
    return wrap(
        text.strip(),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=hang,
        break_long_words=False,
        break_on_hyphens=False,
    )


def blanks(*names: str) -> str:
    """One line with a blank to write on after each name, alike in width."""
    each = (WIDTH - 2) // len(names)
    return "  " + " ".join(f"{name} {'_' * (each - len(name) - 2)}" for name in names)
