"""Numbers with their units, as a shop reads them."""

from fractions import Fraction
from math import ceil, degrees, isfinite, pi
from typing import Final

from sim.table.loads import MILE
from sim.units import MM_PER_INCH, UnitsError

POUND_FOOT: Final = 1355.8179483314004
"""N mm: 12 in of 25.4 mm, and 4.4482216152605 N to a pound [derivation]."""
POUND_FORCE: Final = 4.4482216152605
"""N [derivation]: 0.45359237 kg under 9.80665 m/s2."""
POUND: Final = 0.45359237
"""kg."""
PSI: Final = POUND_FORCE / 25.4**2
"""MPa: a pound on a square inch [derivation]."""


def format_length(mm: float, denominator: int = 16) -> str:
    """A result as a tape shows it, the mm after it: ``36 5/16 in (922.3 mm)``.

    The fraction is rounded to the nearest 1/`denominator` in. What a tape shows as nothing is in
    thousandths.
    """
    shown = format_fraction(mm, denominator)
    if shown == "0 in" and _fixed(mm, 1) != "0.0":
        return format_fine(mm)
    return f"{shown} ({_fixed(mm, 1)} mm)"


def format_fraction(mm: float, denominator: int = 16) -> str:
    """A length as a tape shows it: ``36 5/16 in``, rounded to the nearest 1/`denominator` in."""
    if not isfinite(mm):
        raise UnitsError(str(mm), "not a finite number", "a length that can be printed")
    steps = round(Fraction(mm) / MM_PER_INCH * denominator)
    whole, rest = divmod(abs(steps), denominator)
    sign = "-" if steps < 0 else ""
    if not rest:
        return f"{sign}{whole} in"
    fraction = Fraction(rest, denominator)
    lead = f"{whole} " if whole else ""
    return f"{sign}{lead}{fraction} in"


def format_fine(mm: float) -> str:
    """A length too small for a tape: ``0.197 in (5.0 mm)``."""
    return f"{_fixed(mm / 25.4, 3)} in ({_fixed(mm, 1)} mm)"


def small_length(mm: float) -> str:
    """A room as a tape shows it, or in decimals where a tape shows nothing."""
    shown = format_fraction(mm)
    return f"{mm / 25.4:.3f} in" if shown == "0 in" else shown


def exact(mm: float) -> str:
    """A length as a caliper shows it: ``1.358 in (34.49 mm)``."""
    return f"{mm / 25.4:.3f} in ({mm:.2f} mm)"


def format_missing(mm: float) -> str:
    """A length that is missing: ``1 1/4 in (31.1 mm)``, the fraction rounded up, so that it does.

    A tenth of a micrometre over a 1/16 in is rounding.
    """
    return f"{format_fraction_up(mm)} ({_fixed(mm, 1)} mm)"


def format_fraction_up(mm: float, denominator: int = 16) -> str:
    """A length as a tape shows it, rounded up to the next 1/`denominator` in."""
    step = float(MM_PER_INCH) / denominator
    up = ceil((mm - 1e-4) / step) * step if isfinite(mm) else mm
    return format_fraction(up, denominator)


def left_fraction(mm: float) -> str:
    """What is left of something as a tape shows it; a minus, rounded up, where it is short."""
    return f"-{format_fraction_up(-mm)}" if mm < 0.0 else format_fraction(mm)


def format_length_under(mm: float, wanted: float) -> str:
    """A length that is less than the `wanted` mm, so that it reads as less.

    As `format_length`; where that shows the same fraction for both, so: ``just under 3/4 in
    (18.7 mm)``, without the mm where those are the same too.
    """
    if format_fraction(mm) != format_fraction(wanted):
        return format_length(mm)
    same = _fixed(mm, 1) == _fixed(wanted, 1)
    return f"just under {format_fraction(wanted)}{'' if same else f' ({_fixed(mm, 1)} mm)'}"


def format_under(value: float, wanted: float, decimals: int) -> str:
    """A number with so many decimals, or the fewest more with which it differs from `wanted`.

    Six at the most: what is nearer is told alike.
    """
    for places in range(decimals, 6):
        shown = _fixed(value, places)
        if shown != _fixed(wanted, places):
            return shown
    return _fixed(value, 6)


def format_angle(rad: float, decimals: int = 1) -> str:
    """An angle in degrees: ``13.4 deg``; a digital level reads tenths."""
    if not isfinite(rad):
        raise UnitsError(str(rad), "not a finite number", "an angle that can be printed")
    return f"{_fixed(degrees(rad), decimals)} deg"


def left_degrees(left: float, wanted: float = 0.0) -> str:
    """The size of a room (rad) in degrees, as every place of the program shows it.

    With one decimal, or as many as it takes to read as less than is `wanted` (rad), and as
    something rather than nothing.
    """
    size = abs(degrees(left))
    shown = format_under(size, degrees(wanted), 1) if 0.0 < left < wanted else f"{size:.1f}"
    return shown if float(shown) or not size else format_under(size, 0.0, 1)


def format_spoken(rad: float, positive: str, negative: str, decimals: int = 1) -> str:
    """An angle with its direction as a word: ``3.0 deg down``, never a bare sign."""
    shown = format_angle(abs(rad), decimals)
    if float(shown.split()[0]) == 0.0:
        return shown
    return f"{shown} {positive if rad > 0.0 else negative}"


def format_fine_under(mm: float, wanted: float) -> str:
    """The same of a gap that is less than the `wanted` mm, so that it reads as less."""
    if f"{mm / 25.4:.3f}" == f"{wanted / 25.4:.3f}":
        return format_length_under(mm, wanted)
    return format_fine(mm)


def share_words(part: float) -> str:
    """A share of a life or of a travel, 0 to 1: "12 %"; next to nothing is "under 1 %"."""
    return "under 1 %" if part < 0.01 else f"{100.0 * part:.0f} %"


def times_words(number: float) -> str:
    """How many times, to two digits at most: "1.7 times", "12 times"."""
    if number >= 99.5:
        return "over 100 times"
    return f"{number:.0f} times" if number >= 9.95 else f"{number:.1f} times"


def against(gets: float, takes: float) -> str:
    """A pressure against what is taken of it: "1.7 times", "85 % of"."""
    return times_words(gets / takes) if gets >= takes else f"{share_words(gets / takes)} of"


def pressure(megapascal: float) -> str:
    """A stress in both units of a shop."""
    return f"{megapascal / PSI:,.0f} psi ({megapascal:,.0f} MPa)"


def torque(newton_mm: float) -> str:
    """A torque in both units of a shop."""
    return f"{newton_mm / POUND_FOOT:,.0f} lb-ft ({newton_mm / 1000.0:,.0f} N m)"


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
    way = "clockwise" if rad > 0.0 else "counterclockwise"
    return f"{abs(degrees(rad)):.1f} deg {way}"


def _fixed(value: float, decimals: int) -> str:
    """Fixed decimals without a minus sign before zero."""
    return f"{round(value, decimals) + 0.0:.{decimals}f}"


def force(newton: float) -> str:
    """A force or a weight in both units of a shop."""
    return f"{newton / POUND_FORCE:,.0f} lb ({newton / 1000.0:,.1f} kN)"
