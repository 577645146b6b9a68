"""Numbers of a drive that are possible but odd: a unit or a digit gone wrong.

What is plausible is from memory, and wide: nothing is refused for it.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, Literal

from sim.remark import Remark
from sim.speed import RPM
from sim.table.loads import POUND
from sim.ticket.drive_said import DriveSaid, Number

Measures = Literal["ratio", "torque", "weight", "length", "road speed", "turning"]
"""What a number of [drive] is of: a plain ratio, N mm, N, mm, mm/s, rad/s."""

_LB_FT: Final = 12.0 * 25.4 * POUND
"""N mm."""
_MPH: Final = 1_609_344.0 / 3600.0
"""mm/s."""

PLAUSIBLE: Final[Mapping[Number, tuple[float, float, Measures]]] = MappingProxyType(
    {
        "engine_torque": (30.0 * _LB_FT, 1500.0 * _LB_FT, "torque"),
        "low_gear": (1.5, 20.0, "ratio"),
        "low_range": (1.0, 10.0, "ratio"),
        "converter": (1.0, 4.0, "ratio"),
        "axle_ratio": (2.0, 12.0, "ratio"),
        "axle_load": (300.0 * POUND, 20_000.0 * POUND, "weight"),
        "tyre_radius": (9.0 * 25.4, 30.0 * 25.4, "length"),
        "friction": (0.2, 1.4, "ratio"),
        "top_speed": (10.0 * _MPH, 130.0 * _MPH, "road speed"),
        "top_gear": (0.4, 2.5, "ratio"),
        "engine_top": (1500.0 * RPM, 10_000.0 * RPM, "turning"),
    }
)
"""The least and the most that is plausible of each number of [drive], and what it is of."""


def odd_drive(said: DriveSaid) -> tuple[Remark, ...]:
    """Tell of each number that is outside what is plausible."""
    found = []
    for key, (low, high, measures) in PLAUSIBLE.items():
        value = said.numbers.get(key)
        if value is not None and not low <= value <= high:
            code = f"odd-{key.replace('_', '-')}"
            limit, under = (low, True) if value < low else (high, False)
            found.append(
                Remark(code, name=key, value=value, limit=limit, under=under, measures=measures)
            )
    return tuple(found)
