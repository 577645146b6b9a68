"""What engine, gears and tyres that a rig tells of make of the shaft's speed."""

from __future__ import annotations

from dataclasses import dataclass

from sim.remark import Remark
from sim.speed import ABSURD, Gearing
from sim.ticket.drive_said import DriveSaid


@dataclass(frozen=True)
class GearSaid:
    """What one gear allows at the engine's top speed.

    Attributes
    ----------
    key, ratio : key of [drive] that the gear is from, and its ratio.
    low_range : ratio of the transfer case; 1 in high range.
    shaft : rad/s.
    road : mm/s; None where axle ratio or tyre are not known.
    """

    key: str
    ratio: float
    low_range: float
    shaft: float
    road: float | None


def gearing_of(said: DriveSaid) -> Gearing | None:
    """What lies between engine, shaft and road; None where it is not known."""
    if said.lacks("axle_ratio", "tyre_radius"):
        return None
    # Without a gear the engine is not asked.
    top_gear = said.number("top_gear", 1.0)
    return Gearing(said.number("tyre_radius"), said.number("axle_ratio"), top_gear)


def gears_of(said: DriveSaid, gearing: Gearing | None) -> tuple[GearSaid, ...]:
    """Every gear that is said, in high range and in low."""
    engine, low = said.numbers.get("engine_top"), said.number("low_range")
    if engine is None:
        return ()
    found = []
    for case in (1.0,) if low == 1.0 else (1.0, low):
        for key in ("low_gear", "top_gear"):
            if key in said.numbers:
                ratio = said.number(key)
                shaft = engine / (ratio * case)
                road = None if gearing is None else gearing.road_speed(shaft)
                found.append(GearSaid(key, ratio, case, shaft, road))
    return tuple(found)


def gear_flags(
    said: DriveSaid, gearing: Gearing | None, top: float | None, road: float | None
) -> list[Remark]:
    """What is odd of the gears and of the speeds they give."""
    found = []
    if top is not None and top > ABSURD:
        found.append(Remark("absurd-speed", speed=top))
    top_gear, low_gear = said.numbers.get("top_gear"), said.numbers.get("low_gear")
    if top_gear is not None and low_gear is not None and top_gear > low_gear:
        found.append(Remark("gears-swapped", top_gear=top_gear, low_gear=low_gear))
    most = said.numbers.get("engine_top")
    if gearing is not None and most is not None and road and top_gear is not None:
        engine = gearing.engine_speed(road)
        if engine > 1.001 * most:
            found.append(Remark("top-speed-unreached", engine=engine, most=most))
    return found
