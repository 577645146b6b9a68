"""The travel map: how much is left over axle height and wrap, at one roll."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees, isfinite
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from geometry.tolerances import TOL
from sim.check import Check
from sim.findings import Verdict
from sim.frames import locked
from sim.line.limits import margins

Floats = NDArray[np.float64]

Layer = Literal["output", "middle", "pinion", "slip", "worst"]

HEIGHTS, WRAPS = 97, 49
"""Columns and rows; a contour between them is straight to well under a pixel of the map."""


@dataclass(frozen=True, eq=False)
class TravelMap:
    """Room left over the travel.

    Attributes
    ----------
    travel : (n,) mm, from full droop to full bump.
    wrap : (m,) rad, from nose down to nose up; one entry where the axle does not wrap.
    roll : rad, the one it is for.
    room : (m, n) by layer: deg left for joints, mm left for the slip, and for "worst" the least of
        all as a share of the reserve wanted: 1 is just as much as wanted, 0 is touching. nan out
        of reach: of suspension and shaft, or of the axle's stops at this roll. A slip that nobody
        measured has no layer.
    reserve : what is wanted of each layer, in its unit; of a joint the bend that leaves the gap
        wanted where that is more than the bend wanted.
    by_gap : the joints where it is.
    """

    travel: Floats
    wrap: Floats
    roll: float
    room: Mapping[Layer, Floats]
    reserve: Mapping[Layer, float]
    by_gap: frozenset[Layer] = frozenset()

    def verdict(self, layer: Layer, room: float) -> Verdict | None:
        """Verdict on a value of a layer; None out of reach."""
        if np.isnan(room):
            return None
        if not room > 0.0:
            return "touches"
        return "clear" if room >= self.reserve[layer] else "close"


def travel_map(check: Check, roll: float, heights: int = HEIGHTS, wraps: int = WRAPS) -> TravelMap:
    """Sweep axle height and wrap at one roll (rad)."""
    vehicle, wanted = check.derivation.vehicle, check.rig.wanted
    box = vehicle.travel
    travel = _axis(-box.droop, box.bump, heights)
    wrap = _axis(-box.nose_down, box.nose_up, wraps)
    clear = {name: min(found.clear, TOL.bend_limit) for name, found in check.joints.items()}
    left = margins(vehicle, travel[None, :], roll, wrap[:, None], clear)
    room: dict[Layer, Floats] = {name: np.degrees(bend) for name, bend in left.joints.items()}
    slip = vehicle.slip
    if isfinite(slip.closes) or isfinite(slip.opens):
        room["slip"] = np.minimum(left.closes, left.opens)
    reached = np.isfinite(np.sum(list(left.joints.values()), axis=0))
    away = ~(box.contains(travel[None, :], roll, wrap[:, None]) & reached)
    room = {layer: np.where(away, np.nan, values) for layer, values in room.items()}
    reserve: dict[Layer, float] = {
        name: max(degrees(found.room.reserve), _LEAST) for name, found in check.joints.items()
    }
    if "slip" in room:
        reserve["slip"] = max(wanted.slip.mm, _LEAST)
    room["worst"] = np.minimum.reduce([room[layer] / reserve[layer] for layer in reserve])
    reserve["worst"] = 1.0
    return TravelMap(
        locked(travel),
        locked(wrap),
        roll,
        MappingProxyType({layer: locked(values) for layer, values in room.items()}),
        MappingProxyType(reserve),
        frozenset(name for name, found in check.joints.items() if found.room.gap_governs),
    )


_LEAST = 0.01
"""deg or mm. A reserve of nothing still has to be divided by."""


def _axis(low: float, high: float, count: int) -> Floats:
    return np.linspace(low, high, count if high > low else 1)
