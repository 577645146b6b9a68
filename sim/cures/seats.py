"""Where the yokes at the ends are bolted stays; other yokes have their joint elsewhere on it."""

from dataclasses import replace
from typing import Any, Literal

import numpy as np

from sim.cures.restate import in_coordinates, readings_from
from sim.derive import ride_height_of
from sim.frames import FloatArray
from sim.head.bend import ball_of
from sim.ride import Ride
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.shaft import End, on_vehicle
from sim.table.typed import typed_length, typed_point


def seated(before: Rig, after: Rig) -> Rig:
    """`after`, which has other joints, with the yokes at its ends on the seats of those `before`.

    A flange is bolted to the same face, a strap yoke sits on its pinion against the same seal, the
    barrel of a sliding yoke stands as far out of its seal: a joint centre that lies farther from
    there moves along the end's own axis. So does the middle joint of a two-piece shaft behind the
    flange at its bearing. The slip is set as it was, so a shaft made anew has the
    length that is left. Ends whose seat is not known of both yokes (a scan, another kind of yoke)
    stay where their joints were.
    """
    out = _behind(after, "output") - _behind(before, "output")
    up = _behind(after, "pinion") - _behind(before, "pinion")
    beyond = _middle_behind(after) - _middle_behind(before)
    out, up, beyond = (0.0 if np.isnan(way) else round(way, 6) for way in (out, up, beyond))
    if out == 0.0 and up == 0.0 and beyond == 0.0:
        return after
    plain = in_coordinates(after)
    ride = ride_height_of(plain)
    by_pinion = up * ride.pinion_points
    values: dict[str, Any] = {}
    hung_by = np.zeros(3)
    joint = ride.p_C_output
    if out != 0.0:
        joint, hung_by = _moved_out(ride, out)
        values["output.joint"] = typed_point(joint)
    if beyond != 0.0 and ride.section is not None:
        tilted = ride.section if out == 0.0 else replace(ride.section, p_C_output=joint)
        values["carrier.middle_joint_beyond"] = typed_length(tilted.beyond + beyond)
        hung_by = hung_by + beyond * tilted.axis_C
    if up != 0.0:
        values["axle.pinion_joint"] = typed_point(ride.p_C_pinion + by_pinion)
    return changed(plain, values | readings_from(plain, by=hung_by, joint_by=by_pinion))


def joint_drawn_out(rig: Rig, out: float) -> Rig:
    """A rig in coordinates with its output joint farther out of the case by mm, along its axis."""
    joint, hung_by = _moved_out(ride_height_of(rig), out)
    return changed(rig, {"output.joint": typed_point(joint)} | readings_from(rig, by=hung_by))


def _moved_out(ride: Ride, out: float) -> tuple[FloatArray, FloatArray]:
    """Output joint (3,) farther out of the case by mm, and by how much (3,) the shaft's end moves.

    With a carrier bearing the front section takes up the rest: the bearing stays.
    """
    section = ride.section
    if section is None:
        by = out * ride.output_points
        return ride.p_C_output + by, by
    joint = section.p_C_output - out * section.axis_C_output
    return joint, replace(section, p_C_output=joint).p_C_middle - section.p_C_middle


def seat_of(rig: Rig, end: End) -> float | None:
    """From the cross of the yoke on the vehicle's side to where it sits, mm; None where unknown."""
    choice = on_vehicle(end)
    if choice.is_own:
        return None
    return fitted_yoke(choice, fitted_cross(end.cross), rig.shaft.tube).seat


def _middle_behind(rig: Rig) -> float:
    """From the middle joint's centre to the flange that its front yoke is bolted to, mm."""
    if rig.carrier is None or rig.carrier.middle.front_yoke.is_own:
        return np.nan
    middle = rig.carrier.middle
    shape = fitted_yoke(middle.front_yoke, fitted_cross(middle.cross), rig.shaft.tube)
    return shape.datums.get("flange face", np.nan)


def _behind(rig: Rig, end: Literal["output", "pinion"]) -> float:
    """From a joint's centre, the ball of a head, to the seat behind it, mm; nan where unknown."""
    output_head, pinion_head = heads_of(rig.shaft)
    if end == "output":
        head, seat = output_head, seat_of(rig, rig.shaft.output_end)
    else:
        head, seat = pinion_head, seat_of(rig, rig.shaft.pinion_end)
    return np.nan if seat is None else seat + ball_of(head)
