"""Numbers with their units, as a shop reads them."""

from math import degrees, isfinite, pi
from typing import Final

POUND_FOOT: Final = 1355.8179483314004
"""N mm: 12 in of 25.4 mm, and 4.4482216152605 N to a pound [derivation]."""
POUND_FORCE: Final = 4.4482216152605
"""N [derivation]: 0.45359237 kg under 9.80665 m/s2."""
POUND: Final = 0.45359237
"""kg."""
MILE: Final = 1_609_344.0
"""mm."""


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
    way = "clockwise" if rad > 0.0 else "counter-clockwise"
    return f"{abs(degrees(rad)):.1f} deg {way}"
