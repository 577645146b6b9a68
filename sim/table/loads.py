"""Torques, weights, speeds, shares and bare numbers as they are typed in a rig file."""

import re
from dataclasses import dataclass
from math import inf, pi
from typing import Annotated, Any, Final

from pydantic_core import PydanticCustomError

from sim.table.kinds import Count, Number, Range, Typed, in_units, is_bare, refusal

POUND: Final = 4.4482216152605
"""N. The weight of a pound."""
KILOGRAM: Final = 9.80665
"""N. The weight of a kilogram under standard gravity."""
MILE: Final = 1_609_344.0
"""mm."""
ALL: Final = 1.0
"""The share that is all of it."""

_NUMBER: Final = r"\s*(?P<number>[0-9]+(?:\.[0-9]+)?)\s*"
_SPACED: Final = re.compile(_NUMBER + r"(?P<unit>[A-Za-z][A-Za-z .\-]*)")
_SLASHED: Final = re.compile(_NUMBER + r"(?P<unit>[A-Za-z1/]+)\s*")
_FOR_EDITORS: Final = r"^\s*[0-9]+(\.[0-9]+)?\s*"
_BLANKS: Final = r"[ .\-]"
_MOST: Final = 1e12
"""N, or N mm. A thousand times what any vehicle has."""

FORCE: Final = Typed(
    "Force",
    Range(0.0, _MOST, "N", above=True),
    says="A force or weight with its unit.",
    examples=("1900 lb", "8.5 kN", "860 kg"),
    expected='a force or weight with its unit, such as "1900 lb", "8.5 kN" or "860 kg"',
    number=in_units(
        {"n": 1.0, "kn": 1e3, "lb": POUND, "lbs": POUND, "lbf": POUND, "kg": KILOGRAM},
        _SPACED,
        _BLANKS,
    ),
    pattern=_FOR_EDITORS + r"[A-Za-z][A-Za-z .\-]*$",
)
TORQUE: Final = Typed(
    "Torque",
    Range(0.0, _MOST, "N mm", above=True),
    says="A torque with its unit.",
    examples=("300 lb-ft", "400 N m"),
    expected='a torque with its unit, such as "300 lb-ft" or "400 N m"',
    number=in_units(
        {
            "nm": 1e3,
            "knm": 1e6,
            **dict.fromkeys(("lbft", "lbfft", "ftlb", "ftlbs"), 12.0 * 25.4 * POUND),
            **dict.fromkeys(("lbin", "inlb"), 25.4 * POUND),
        },
        _SPACED,
        _BLANKS,
    ),
    pattern=_FOR_EDITORS + r"[A-Za-z][A-Za-z .\-]*$",
)
STIFFNESS: Final = Typed(
    "Stiffness",
    Range(0.0, inf, "N/mm", above=True),
    says="Stiffness of a bushing with its unit.",
    examples=("5 kN/mm", "5000 N/mm", "28500 lb/in"),
    expected='a stiffness with its unit, such as "5 kN/mm", "5000 N/mm" or "28500 lb/in"',
    number=in_units({"n/mm": 1.0, "kn/mm": 1e3, "lb/in": POUND / 25.4}, _SLASHED),
    pattern=_FOR_EDITORS + r"([kK]?[nN]/[mM][mM]|[lL][bB]/[iI][nN])\s*$",
)
ROAD_SPEED: Final = Typed(
    "RoadSpeed",
    Range(0.0, 1e5, "mm/s", above=True),  # 360 km/h; a higher one has the wrong unit
    says="A road speed with its unit.",
    examples=("70 mph", "110 km/h"),
    expected='a road speed with its unit, such as "70 mph" or "110 km/h"',
    number=in_units(
        {"mph": MILE / 3600.0, **dict.fromkeys(("km/h", "kmh", "kph"), 1e6 / 3600.0), "m/s": 1e3},
        _SLASHED,
    ),
    pattern=_FOR_EDITORS + r"[A-Za-z1/]+\s*$",
)
TURNING: Final = Typed(
    "Turning",
    Range(0.0, 3000.0, "rad/s", above=True),  # about 28,600 rpm; no engine here turns faster
    says="A speed of turning with its unit.",
    examples=("4500 rpm",),
    expected='a speed of turning with its unit, such as "4500 rpm"',
    number=in_units({"rpm": 2.0 * pi / 60.0, "1/min": 2.0 * pi / 60.0, "rad/s": 1.0}, _SLASHED),
    pattern=_FOR_EDITORS + r"[A-Za-z1/]+\s*$",
)
GRADE: Final = Typed(
    "Grade",
    Range(1.0, 100.0, "mm/s"),  # what a shaft is balanced to
    says="A balance grade.",
    examples=("G16", "G40"),
    expected='a balance grade such as "G16" or "G40"',
    number=in_units({"g": 1.0}, re.compile(r"\s*(?P<unit>[Gg])" + _NUMBER)),
    pattern=r"^\s*[Gg]\s*[0-9]+(\.[0-9]+)?\s*$",
)


@dataclass(frozen=True)
class Share(Typed):
    """A share in per cent: of a number, how far off it may be; or what is left of a whole."""

    def read(self, value: Any) -> str:
        """Check a text; of what may be all of it there is one thing to say whatever is wrong."""
        try:
            return super().read(value)
        except PydanticCustomError:
            if self.range.below:
                raise
            raise refusal(
                "a number without a unit" if is_bare(value) else "", self.expected
            ) from None

    def within(self, found: float) -> None:
        """Refuse all of it, or more."""
        if found > self.range.most or (self.range.below and found == self.range.most):
            raise refusal("all of it or more", "a share from 0 to under 100 %")


_PERCENT: Final = re.compile(_NUMBER + r"(?:%|percent)\s*")


def _share(text: str) -> float | None:
    found = _PERCENT.fullmatch(text)
    return float(found["number"]) / 100.0 if found else None


OFF: Final = Share(
    "Share",
    Range(0.0, ALL, "of it", below=True),
    says="How far off a number may be, as a share of it.",
    examples=("5 %",),
    expected='a share in per cent, such as "5 %"',
    number=_share,
    pattern=_FOR_EDITORS + r"(%|percent)\s*$",
)
LEFT: Final = Share(
    "Share left",
    Range(0.0, ALL, "of it"),
    says="What is left of something, from none of it to all of it.",
    examples=("40 %",),
    expected='a share from 0 to 100 %, such as "40 %"',
    number=_share,
    pattern=_FOR_EDITORS + r"(%|percent)\s*$",
)

# Kept as typed; `of` or `sure` of its kind gives the number in N, N mm, N/mm, mm/s or rad/s.
Force = Annotated[str, FORCE]
Torque = Annotated[str, TORQUE]
Stiffness = Annotated[str, STIFFNESS]
RoadSpeed = Annotated[str, ROAD_SPEED]
Turning = Annotated[str, TURNING]
Grade = Annotated[str, GRADE]
OffShare = Annotated[str, OFF]
LeftShare = Annotated[str, LEFT]

Ratio = Annotated[float, Number("Ratio", Range(0, 1000, above=True))]
"""A ratio of two speeds or torques."""
Efficiency = Annotated[float, Number("Efficiency", Range(0, 1, above=True))]
"""What is left of a whole, from above 0 to 1."""
Friction = Annotated[float, Number("Friction", Range(0, 2, above=True))]
"""A coefficient of friction of tyres on the ground."""
Leaves = Annotated[int, Count("Count", Range(1, 40))]
"""How many leaves a spring has."""


def share_or(typed: str | None, generic: float) -> float:
    """Share of a text that was checked; a generic one where nothing is typed."""
    found = OFF.of(typed)
    return generic if found is None else found
