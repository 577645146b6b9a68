"""What the owner heeds: how far the axle may move, how far each joint may bend."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor
from types import MappingProxyType
from typing import Final

from sim.ticket.reserves import Reserves
from sim.ticket.slip_plan import Split
from sim.vehicle import Joint

STRETCH: Final = 12.7
"""mm, 1/2 in: straps give so much under a hanging axle (from memory)."""

STRAP_STEP: Final = 25.4 / 4.0
"""mm. Straps are set to a quarter of an inch."""


@dataclass(frozen=True)
class OwnerLimits:
    """Limits at the rig's roll and wrap.

    Attributes
    ----------
    free_droop, free_bump : mm down and up to which everything keeps the reserve that a check
        wants; all of it, or in whole 1/16 in.
    stopped_by, stopped_above : what runs short of its reserve beyond: "output joint", "slip", a
        thing near the shaft; empty where nothing does.
    straps : mm below ride height to set straps to, their stretch taken off; None where none are
        needed; 0 where none help.
    bends : rad that each joint may bend at the most, with the bend and the gap wanted kept.
    split_droop, split_by : the same as `free_droop` and `stopped_by` with the slip at its best
        split; None where that lets the axle go no further.
    """

    free_droop: float
    free_bump: float
    stopped_by: str
    stopped_above: str
    straps: float | None
    bends: Mapping[Joint, float]
    split_droop: float | None
    split_by: str


def owner_limits(reserves: Reserves, best: Split) -> OwnerLimits:
    """Find the limits of a rig. best : its slip at the best split."""
    free, stopped_by = reserves.furthest("down")
    up, stopped_above = reserves.furthest("up")
    split, split_by = None, ""
    if "slip" in (stopped_by, stopped_above) and min(best.closes, best.opens) >= 0.0:
        slip = replace(reserves.slip, closes=best.closes, opens=best.opens)
        other = replace(reserves, slip=slip)
        (further, by), (higher, _) = other.furthest("down"), other.furthest("up")
        if further >= free and higher >= up and (further, higher) != (free, up):
            split, split_by = further, by
    return OwnerLimits(
        free_droop=free,
        free_bump=up,
        stopped_by=stopped_by,
        stopped_above=stopped_above,
        straps=straps_of(free) if stopped_by else None,
        bends=MappingProxyType(reserves.bends()),
        split_droop=split,
        split_by=split_by,
    )


def straps_of(limit: float) -> float:
    """Where to set straps (mm) so that they give no further than a limit; 0 where none help."""
    return max(0.0, floor((limit - STRETCH) / STRAP_STEP + 1e-9) * STRAP_STEP)
