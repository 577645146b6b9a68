"""A rig said anew: the same vehicle in coordinates, moved or turned, with the same shaft in it."""

from math import hypot
from typing import Any

import numpy as np

from sim.derive import measured_slip, ride_height_of, vehicle_of
from sim.frames import FloatArray, housing_turned
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.ends import Axle
from sim.suspension.table import Change
from sim.table.fields import millimetres
from sim.table.typed import typed_length, typed_point


def in_coordinates(rig: Rig) -> Rig:
    """The same vehicle with both joints given by their coordinates in place of a phone call's."""
    ride = ride_height_of(rig)
    values: dict[str, Any] = {}
    if rig.ride_height is not None:
        values["ride_height"] = None
    if rig.output.joint is None:
        values["output.joint"] = typed_point(ride.p_C_output)
    if rig.axle.pinion_joint is None:
        values["axle.pinion_joint"] = typed_point(ride.p_C_pinion)
    return changed(rig, values) if values else rig


def pinion_turned(rig: Rig, nose_up: float) -> Rig:
    """The rig with its housing turned about the axle's own axis by `nose_up` (rad).

    The springs stay where they are, as with shims; ends of links on the housing go along, as with
    adjustable links. The shaft is the same one, so its slip sits elsewhere.
    """
    plain = in_coordinates(rig)
    ride = ride_height_of(plain)
    pinion = millimetres(plain.axle.pinion_joint) if plain.axle.pinion_joint is not None else None
    if pinion is None:
        return rig
    values: dict[str, Any] = {
        "axle.pinion_joint": typed_point(housing_turned(np.array(pinion), nose_up, ride.front)),
        **Axle.up.typed(ride.pinion_up + nose_up, "axle."),
    }
    points = housing_turned(ride.pinion_points, nose_up, ride.front)
    if points[1] != 0.0:  # seen from above, a nose that points aside does so more as it tips up
        aside = float(np.arctan2(points[1], abs(points[0])))
        values |= Axle.left.typed(aside, "axle.")
    values |= readings_from(plain, nose_up)
    caster = plain.axle.steers
    if caster is not None:  # the knuckles are welded to the housing
        values |= Axle.steers.typed(caster - nose_up, "axle.")
    return same_shaft(plain, changed(plain, values))


def same_shaft(before: Rig, after: Rig) -> Rig:
    """`after` with the shaft of `before` in it: what is left in the slip at ride height moves."""
    if before.shaft.slip.at == "output":
        after = _slid(after, ride_height_of(before).length)
        return _with_slip(before, after, _along_output(before, after))
    moved = ride_height_of(after).length - ride_height_of(before).length
    return _with_slip(before, after, moved)


def longer_tube(rig: Rig, longer: float) -> Rig:
    """The rig with a tube longer by `longer` (mm), shorter where negative: the slip sits elsewhere.

    A longer tube pushes a yoke that slides on the output into the case, and its joint with it.
    """
    if rig.shaft.slip.at != "output":
        return _with_slip(rig, rig, -longer)
    plain = in_coordinates(rig)
    slid = _slid(plain, ride_height_of(plain).length + longer)
    return _with_slip(plain, slid, _along_output(plain, slid))


def _with_slip(before: Rig, after: Rig, moved: float) -> Rig:
    """`after` with the slip of `before` drawn out by `moved` mm at ride height."""
    slip, measured = before.shaft.slip, measured_slip(before)
    left = {
        "shaft.slip.closes": max(0.0, slip.closes.mm + moved),
        "shaft.slip.opens": max(0.0, slip.opens.mm - moved),
    }
    # A slip that nobody measured is no better known for having been moved.
    values: dict[str, Any] = {key: typed_length(left[key]) for key in sorted(measured)}
    if slip.comes_apart is not None:
        least = left["shaft.slip.opens"] if "shaft.slip.opens" in measured else 0.0
        apart = max(least, slip.comes_apart.mm - moved)
        values["shaft.slip.comes_apart"] = typed_length(apart)
    return changed(after, values)


def readings_from(
    rig: Rig,
    nose_up: float = 0.0,
    by: FloatArray | None = None,
    joint_by: FloatArray | None = None,
) -> dict[str, Any]:
    """What the suspension's table says otherwise of the same axle after a change; see `Change`."""
    change = Change(nose_up, *(np.zeros(3) if each is None else each for each in (by, joint_by)))
    typed = rig.typed().get("suspension", {})
    return {
        f"suspension.{key}": value
        for key, value in rig.suspension.restated(typed, lambda: vehicle_of(rig), change).items()
    }


def _slid(after: Rig, length: float) -> Rig:
    """`after` with the output joint slid along its spline until a shaft of `length` mm fits."""
    now = ride_height_of(after)
    to_pinion = now.p_C_pinion - now.p_C_output
    ahead = float(to_pinion @ now.output_points)
    aside2 = float(to_pinion @ to_pinion) - ahead**2
    reach2 = length**2 - aside2
    slide = ahead - (reach2**0.5 if reach2 > 0.0 else 0.0)
    by = slide * now.output_points
    values: dict[str, Any] = {"output.joint": typed_point(now.p_C_output + by)}
    return changed(after, values | readings_from(after, by=by))


def _along_output(before: Rig, after: Rig) -> float:
    """How far (mm) the output joint has slid out of the case."""
    was, now = ride_height_of(before), ride_height_of(after)
    return float((now.p_C_output - was.p_C_output) @ now.output_points)


def distance(a: FloatArray, b: FloatArray) -> float:
    """Distance of two points, mm."""
    return hypot(*(float(v) for v in np.subtract(a, b)))
