"""Numbers of a drive that are possible but odd: a unit or a digit gone wrong.

What is plausible is from memory, and wide: nothing is refused for it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from sim.flags import Flag
from sim.rig.loads import POUND
from sim.ticket.drive_said import DriveSaid
from sim.ticket.gears import RPM
from sim.units import format_length

_LB_FT: Final = 12.0 * 25.4 * POUND
"""N mm."""
_MPH: Final = 1_609_344.0 / 3600.0
"""mm/s."""


def _ratio(value: float) -> str:
    return f"{value:g}"


def _torque(value: float) -> str:
    return f"{value / _LB_FT:,.0f} lb-ft ({value / 1000.0:,.0f} N m)"


def _weight(value: float) -> str:
    return f"{value / POUND:,.0f} lb ({value / 1000.0:,.1f} kN)"


def _road(value: float) -> str:
    return f"{value / _MPH:,.0f} mph ({value * 3.6e-3:,.0f} km/h)"


def _turning(value: float) -> str:
    return f"{value / RPM:,.0f} rpm"


PLAUSIBLE: Final[Mapping[str, tuple[float, float, Callable[[float], str]]]] = MappingProxyType(
    {
        "engine_torque": (30.0 * _LB_FT, 1500.0 * _LB_FT, _torque),
        "low_gear": (1.5, 20.0, _ratio),
        "low_range": (1.0, 10.0, _ratio),
        "converter": (1.0, 4.0, _ratio),
        "axle_ratio": (2.0, 12.0, _ratio),
        "axle_load": (300.0 * POUND, 20_000.0 * POUND, _weight),
        "tyre_radius": (9.0 * 25.4, 30.0 * 25.4, format_length),
        "friction": (0.2, 1.4, _ratio),
        "top_speed": (10.0 * _MPH, 130.0 * _MPH, _road),
        "top_gear": (0.4, 2.5, _ratio),
        "engine_top": (1500.0 * RPM, 10_000.0 * RPM, _turning),
    }
)
"""The least and the most that is plausible of each number of [drive], and its words."""


def odd_drive(said: DriveSaid) -> tuple[Flag, ...]:
    """Tell of each number that is outside what is plausible."""
    found = []
    for key, (low, high, words) in PLAUSIBLE.items():
        value = said.numbers.get(key)
        if value is not None and not low <= value <= high:
            few = f"few are under {words(low)}" if value < low else f"few are over {words(high)}"
            found.append(
                Flag(
                    f"odd-{key.replace('_', '-')}",
                    f"{key} is {words(value)}, and {few}: is it mistyped, or in another unit?",
                )
            )
    return tuple(found)
