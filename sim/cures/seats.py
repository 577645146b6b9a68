"""Where the yokes at the ends are bolted stays; other yokes have their joint elsewhere on it."""

from typing import Any, Literal

import numpy as np

from geometry.yoke import FlangeYoke, StrapYoke
from sim.cures.restate import in_coordinates, readings_from, typed_point
from sim.derive import ride_height_of
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.shaft import OutputEnd, PinionEnd


def seated(before: Rig, after: Rig) -> Rig:
    """`after`, which has other joints, with the yokes at its ends on the seats of those `before`.

    A flange is bolted to the same face, a strap yoke sits on its pinion against the same seal: a
    joint centre that lies farther from there moves along the end's own axis. The slip is set as
    it was, so a shaft made anew has the length that is left. Ends whose seat is not known of both
    yokes (a scan, a sliding yoke) stay where their joints were.
    """
    out = _behind(after, "output") - _behind(before, "output")
    up = _behind(after, "pinion") - _behind(before, "pinion")
    out, up = (0.0 if np.isnan(way) else round(way, 6) for way in (out, up))
    if before.carrier is not None:
        out = 0.0  # the front section takes it up
    if out == 0.0 and up == 0.0:
        return after
    plain = in_coordinates(after)
    ride = ride_height_of(plain)
    by_output, by_pinion = out * ride.output_points, up * ride.pinion_points
    values: dict[str, Any] = {}
    if out != 0.0:
        values["output.joint"] = typed_point(ride.p_C_output + by_output)
    if up != 0.0:
        values["axle.pinion_joint"] = typed_point(ride.p_C_pinion + by_pinion)
    return changed(plain, values | readings_from(plain, by=by_output, joint_by=by_pinion))


def seat_of(rig: Rig, end: OutputEnd | PinionEnd) -> float | None:
    """From the cross of the yoke on the vehicle's side to where it sits, mm; None where unknown."""
    choice = end.output_yoke if isinstance(end, OutputEnd) else end.pinion_yoke
    if choice.is_own:
        return None
    shape = fitted_yoke(choice, fitted_cross(end.cross), rig.shaft.tube)
    if isinstance(shape, FlangeYoke):
        return float(shape.flange_face)
    return float(shape.seal_guard_at) if isinstance(shape, StrapYoke) else None


def _behind(rig: Rig, end: Literal["output", "pinion"]) -> float:
    """From a joint's centre, the ball of a head, to the seat behind it, mm; nan where unknown."""
    output_head, pinion_head = heads_of(rig.shaft)
    if end == "output":
        head, seat = output_head, seat_of(rig, rig.shaft.output_end)
    else:
        head, seat = pinion_head, seat_of(rig, rig.shaft.pinion_end)
    return np.nan if seat is None else seat + (0.0 if head is None else head.ball)
