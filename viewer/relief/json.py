"""What grinding gains at a joint as plain data."""

from math import degrees, isfinite
from typing import Any

import numpy as np

from geometry.relief import Cut, Plan, Relief
from sim.parts.hardware import JointHardware
from viewer.encoder import keyed, number
from viewer.relief.text import nothing_to_grind

_RELIEF = (
    "wanted_deg=wanted clearance_mm=clearance least_wall_mm=least_wall before_deg=before enough"
)


def relief_data(hardware: JointHardware, found: Relief) -> dict[str, Any]:
    """What grinding gains as plain data."""
    return {
        "joint": hardware.joint,
        **keyed(found, _RELIEF),
        "nothing_to_grind": nothing_to_grind(hardware, found) if found.already else None,
        "plans": [] if found.already else [_plan_data(hardware, plan) for plan in found.plans],
    }


def _plan_data(hardware: JointHardware, plan: Plan) -> dict[str, Any]:
    stop = plan.stop
    return {
        **keyed(plan, "way reached_deg=reached gained_deg=gained gap_mm=gap"),
        "cuts": {hardware.yoke_name(body): _cut_data(cut) for body, cut in plan.cuts.items()},
        "stop": None
        if stop is None
        else {
            "reason": stop.reason,
            "part": hardware.yoke_name(stop.body),
            "surface": stop.surface,
            "bend_deg": degrees(stop.bend),
        },
    }


def _cut_data(cut: Cut) -> dict[str, Any]:
    return {
        **keyed(cut, "volume_mm3=volume depth_mm=depth deepest_mm=deepest wall_mm=wall"),
        "limit_mm": number(cut.limit) if isfinite(cut.wall) else None,
        "thinnest_mm": np.asarray(cut.thinnest).tolist() if isfinite(cut.wall) else None,
        "surfaces": list(cut.surfaces),
    }
