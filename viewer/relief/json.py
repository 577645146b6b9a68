"""What grinding gains at a joint as plain data."""

from math import isfinite
from typing import Any

from geometry.relief import Cut, Plan, Relief
from sim.hardware.joint import JointHardware
from viewer.encoder import keyed, plain
from viewer.relief.text import nothing_to_grind

_RELIEF = (
    "wanted_deg=wanted clearance_mm=clearance least_wall_mm=least_wall before_deg=before enough"
)


def relief_data(hardware: JointHardware, found: Relief) -> dict[str, Any]:
    """What grinding gains as plain data."""
    return {
        "joint": hardware.joint,
        "fitted": hardware.fitted,
        **keyed(found, _RELIEF),
        "nothing_to_grind": nothing_to_grind(hardware, found) if found.already else None,
        "plans": [] if found.already else [_plan_data(hardware, plan) for plan in found.plans],
    }


def _plan_data(hardware: JointHardware, plan: Plan) -> dict[str, Any]:
    stop = plan.stop
    return {
        **keyed(plan, "way reached_deg=reached gained_deg=gained gap_mm=gap"),
        "cuts": {hardware.yoke_name(body): _cut_data(cut) for body, cut in plan.cuts.items()},
        "stop": stop
        and keyed(stop, "reason part=body surface bend_deg=bend")
        | {"part": hardware.yoke_name(stop.body)},
    }


def _cut_data(cut: Cut) -> dict[str, Any]:
    return {
        **keyed(cut, "volume_mm3=volume depth_mm=depth deepest_mm=deepest wall_mm=wall"),
        "limit_mm": plain(cut.limit) if isfinite(cut.wall) else None,
        "thinnest_mm": plain(cut.thinnest) if isfinite(cut.wall) else None,
        "surfaces": list(cut.surfaces),
    }
