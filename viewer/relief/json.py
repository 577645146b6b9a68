"""What grinding gains at a joint as plain data."""

from math import degrees, isfinite
from typing import Any

import numpy as np

from geometry.relief import Cut, Plan, Relief
from sim.parts.hardware import JointHardware
from viewer.check.json import number
from viewer.relief.text import nothing_to_grind


def relief_data(hardware: JointHardware, found: Relief) -> dict[str, Any]:
    """What grinding gains as plain data."""
    return {
        "joint": hardware.joint,
        "wanted_deg": degrees(found.wanted),
        "clearance_mm": found.clearance,
        "least_wall_mm": found.least_wall,
        "before_deg": degrees(found.before),
        "enough": found.enough,
        "nothing_to_grind": nothing_to_grind(hardware, found) if found.already else None,
        "plans": [] if found.already else [_plan_data(hardware, plan) for plan in found.plans],
    }


def _plan_data(hardware: JointHardware, plan: Plan) -> dict[str, Any]:
    stop = plan.stop
    return {
        "way": plan.way,
        "reached_deg": degrees(plan.reached),
        "gained_deg": degrees(plan.gained),
        "gap_mm": number(plan.gap),
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
        "volume_mm3": cut.volume,
        "depth_mm": cut.depth,
        "deepest_mm": np.asarray(cut.deepest).tolist(),
        "wall_mm": number(cut.wall),
        "limit_mm": number(cut.limit) if isfinite(cut.wall) else None,
        "thinnest_mm": np.asarray(cut.thinnest).tolist() if isfinite(cut.wall) else None,
        "surfaces": list(cut.surfaces),
    }
