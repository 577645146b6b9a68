"""What the owner heeds: how far the axle may hang, how far each joint may bend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor
from typing import Final

from sim.envelope import Envelope, envelope
from sim.first_contact import FirstContact, first_contact
from sim.rig import Rig
from sim.vehicle import Joint, Vehicle

STRETCH: Final = 12.7
"""mm, 1/2 in: straps give so much under a hanging axle (from memory)."""

STRAP_STEP: Final = 25.4 / 4.0
"""mm. Straps are set to a quarter of an inch."""


@dataclass(frozen=True)
class OwnerLimits:
    """Limits at the rig's roll and wrap.

    Attributes
    ----------
    droop : mm below ride height, as the rig says.
    touch : where the first joint touches going down; None where none does within the droop.
    touch_up : the same going up.
    free_droop : mm of droop down to which every joint keeps the bend wanted and the slip its
        reserve; never more than `droop`.
    stopped_by : what runs short there: "output joint", "slip"; empty where nothing does.
    straps : mm below ride height to set straps to, their stretch taken off; None where none are
        needed; 0 where none help.
    bends : rad that each joint may bend at the most, the wanted reserve taken off.
    """

    droop: float
    touch: FirstContact
    touch_up: FirstContact
    free_droop: float
    stopped_by: str
    straps: float | None
    bends: Mapping[Joint, float]


def owner_limits(
    rig: Rig, vehicle: Vehicle, swept: Envelope, clear: Mapping[Joint, float]
) -> OwnerLimits:
    """Find the limits of a rig. clear : rad, certified clear bend of each joint."""
    first, second = vehicle.joint_names
    reserve = rig.wanted.bend.rad
    down = first_contact(vehicle, clear[first], clear[second], "down")
    up = first_contact(vehicle, clear[first], clear[second], "up")
    bends = {joint: max(0.0, bend - reserve) for joint, bend in clear.items()}
    near = first_contact(vehicle, bends[first], bends[second], "down")
    droop = vehicle.travel.droop
    free, stopped_by = droop, ""
    if near.first is not None:
        free, stopped_by = abs(near.first.at.travel), f"{near.first.joint} joint"
    if vehicle.section is not None and vehicle.section.bend >= bends["output"]:
        free, stopped_by = 0.0, "output joint"
    if swept.slip.opens_left < rig.wanted.slip.mm and droop > 0.0:
        until = _slip_droop(vehicle, rig.wanted.slip.mm, droop)
        if until < free:
            free, stopped_by = until, "slip"
    straps = None
    if free < droop - 1e-6:
        straps = max(0.0, floor((free - STRETCH) / STRAP_STEP + 1e-9) * STRAP_STEP)
    return OwnerLimits(droop, down, up, free, stopped_by, straps, bends)


def _slip_droop(vehicle: Vehicle, reserve: float, droop: float) -> float:
    """Greatest droop (mm) down to which the slip opens no further than its reserve allows."""
    low, high = 0.0, droop
    allowed = vehicle.slip.opens - reserve
    if _opening(vehicle, 0.0) > allowed:
        return 0.0
    for _ in range(10):
        middle = 0.5 * (low + high)
        ok = _opening(vehicle, middle) <= allowed
        low, high = (middle, high) if ok else (low, middle)
    return low


def _opening(vehicle: Vehicle, droop: float) -> float:
    """The furthest that the slip opens (mm) with the droop cut off and none of the bump."""
    box = replace(vehicle.travel, droop=droop, bump=0.0)
    return envelope(replace(vehicle, travel=box), nodes=(5, 3, 5)).slip.longest.value
