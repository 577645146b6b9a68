"""From which speed on the shake of the joints is felt, in words."""

from collections.abc import Mapping
from typing import Final

from sim.speed import RPM, Felt, Load
from viewer.words.units import format_angle, road, rpm

TEN_RPM: Final = 10.0 * RPM
"""rad/s; nobody feels to the turn."""

WHEN: Final[Mapping[Load, str]] = {
    "level": "at ride height",
    "power": "under power",
    "coast": "coasting",
    "takeoff": "pulling away",
    "loaded": "loaded",
    "drooped": "hanging low",
}


def felt_above(felt: Felt, top: float | None = None) -> str:
    """``felt above 45 mph (72 km/h), shaft 2,100 rpm``; without the road where it is not known.

    top : rad/s that the shaft turns at most; what would be felt only above that is not felt.
    """
    if not felt.ever:
        return "not felt at any speed"
    at = felt_at(felt.speed, felt.road)
    if top is not None and felt.speed > top:
        return f"not felt up to top speed; it would be above {at}"
    return f"felt above {at}"


def felt_at(speed: float, on_road: float | None) -> str:
    """A speed of the shaft (rad/s) with that of the road (mm/s), where it is known."""
    turns = rpm(round(speed / TEN_RPM) * TEN_RPM)
    return f"{turns} at the shaft" if on_road is None else f"{road(on_road)}, shaft {turns}"


def felt_number(felt: Felt) -> str:
    """The number behind it, in brackets: ``(uneven as one joint bent 6.9 deg)``."""
    if not felt.ever:
        return "(the joints turn the shaft evenly)"
    return f"(uneven as one joint bent {format_angle(felt.bend)})"
