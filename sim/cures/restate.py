"""A rig said anew: the same vehicle in coordinates, moved or turned, with the same shaft in it."""

from collections.abc import Mapping
from math import cos, degrees, hypot, sin
from typing import Any

import numpy as np

from sim.derive import measured_slip, ride_height_of, vehicle_of
from sim.frames import FloatArray
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.fields import millimetres
from sim.rig.ride import Ride


def typed_length(mm: float) -> str:
    """A length as the program writes it into a rig: inches to four places, 2.5 micrometres."""
    return f"{_plain(mm / 25.4)} in"


def typed_angle(rad: float) -> str:
    """An angle as the program writes it into a rig: degrees to four places."""
    return f"{_plain(degrees(rad))} deg"


def _plain(number: float) -> str:
    """Four places, without the zeros that say nothing."""
    text = f"{number:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def typed_point(point: FloatArray) -> list[str]:
    """A point as the program writes it into a rig."""
    return [typed_length(float(value)) for value in point]


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
        **slope_values("axle.points_up", "axle.points_down", ride.pinion_up + nose_up),
    }
    points = housing_turned(ride.pinion_points, nose_up, ride.front)
    if points[1] != 0.0:  # seen from above, a nose that points aside does so more as it tips up
        aside = float(np.arctan2(points[1], abs(points[0])))
        values |= slope_values("axle.points_left", "axle.points_right", aside)
    values |= _suspension_turned(plain, nose_up, ride)
    caster = plain.axle.steers
    if caster is not None:  # the knuckles are welded to the housing
        values |= slope_values("axle.caster", "axle.negative_caster", caster - nose_up)
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


def slope_values(up: str, down: str, rad: float) -> dict[str, str]:
    """Keys and values that say a slope (rad, positive up) in words."""
    return {up if rad >= 0.0 else down: typed_angle(abs(rad))}


def housing_turned(point: FloatArray, nose_up: float, front: bool) -> FloatArray:
    """A point of the housing (3,) after the nose has come up by an angle (rad)."""
    way = -1.0 if front else 1.0
    x, y, z = point
    c, s = cos(nose_up), way * sin(nose_up)
    return np.array([x * c - z * s, y, x * s + z * c])


def _suspension_turned(rig: Rig, nose_up: float, ride: Ride) -> dict[str, Any]:
    """What changes in the suspension's table when the housing turns in it."""
    if rig.suspension.kind == "links":
        table = rig.typed()["suspension"]
        return {"suspension": _links_turned(table, rig, nose_up, ride.front)}
    return readings_from(rig, nose_up)


def _links_turned(
    table: Mapping[str, Any], rig: Rig, nose_up: float, front: bool
) -> dict[str, Any]:
    """A table of links with every end on the housing turned."""
    out = dict(table)
    typed = dict(getattr(rig.suspension, "tables", ()))

    def turn(points: Any) -> Any:
        if isinstance(points[0], tuple):
            return [turn(point) for point in points]
        return typed_point(housing_turned(np.array(millimetres(points)), nose_up, front))

    def member(key: str, raw: Mapping[str, Any]) -> dict[str, Any]:
        model, made = typed[key], dict(raw)
        for name in ("axle", "end"):
            # A torque arm's far end belongs to the housing as well.
            if name in made:
                made[name] = turn(getattr(model, name))
        if "apex" in made:
            on_axle = model.apex_on == "axle"
            name = "apex" if on_axle else "bushes"
            made[name] = turn(getattr(model, name))
        return made

    for group in ("links", "wishbones", "arms"):
        if group in out:
            out[group] = [
                member(f"suspension.{group}[{i + 1}]", raw) for i, raw in enumerate(out[group])
            ]
    for single in ("track_bar", "torque_arm"):
        if single in out:
            out[single] = member(f"suspension.{single}", out[single])
    return out


def readings_from(
    rig: Rig,
    nose_up: float = 0.0,
    by: FloatArray | None = None,
    joint_by: FloatArray | None = None,
) -> dict[str, Any]:
    """Readings of a measured suspension as they would be read of the same axle; else nothing.

    nose_up : rad by which the housing is turned: at each height the joint swings about the
        housing's own axis, which lies where the readings put it.
    by : (3,) mm by which the end of the shaft on the chassis has moved.
    joint_by : (3,) mm by which the pinion joint has moved on the housing, before that turns.
    """
    if rig.suspension.kind != "measured":
        return {}
    vehicle = vehicle_of(rig)
    data = rig.typed()["suspension"]["readings"]
    p_C_output = vehicle.p_C_output + (np.zeros(3) if by is None else by)
    readings = []
    for raw, reading in zip(data, getattr(rig.suspension, "readings"), strict=True):  # noqa: B009
        poses = vehicle.suspension.poses(reading.at.mm, 0.0, 0.0)
        own = vehicle.p_A_pinion + (np.zeros(3) if joint_by is None else joint_by)
        joint = housing_turned(own, nose_up, vehicle.front)
        p_C = poses.p_C_A + poses.R_CA @ joint
        length = float(np.linalg.norm(p_C - p_C_output))
        kept = {k: v for k, v in raw.items() if k not in ("points_up", "points_down")}
        slope = slope_values("points_up", "points_down", reading.up + nose_up)
        readings.append({**kept, "length": typed_length(length), **slope})
    return {"suspension.readings": readings}


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
