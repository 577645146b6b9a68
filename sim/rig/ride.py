"""The joints of a rig at ride height, from either of the two ways to say where they lie."""

from math import atan, hypot, sqrt, tan

from sim.frames import FloatArray, read_only, spoken_direction
from sim.front_section import FrontSection
from sim.ride import Ride
from sim.rig.carrier import Carrier
from sim.rig.ends import Axle, Output, RideHeight
from sim.table.fields import millimetres


def pinion_points(axle: Axle) -> FloatArray:
    """Direction (3,) of the pinion, toward the output."""
    return spoken_direction(forward=not axle.front, down=-axle.up, left=axle.left)


def pinion_joint(axle: Axle) -> FloatArray:
    """Place (3,) of the pinion joint from the centre of the axle housing, mm."""
    if axle.pinion_joint is not None:
        return read_only(millimetres(axle.pinion_joint))
    snout = axle.snout.mm if axle.snout is not None else 0.0
    return read_only(snout * pinion_points(axle))


def shaft_slopes(ride_height: RideHeight) -> tuple[float, float] | None:
    """Slopes (down, left; rad) of the shaft that a phone call gives.

    A slope that is not given comes from the height difference or the side offset. None when the
    joints would be farther apart in height and sideways than along the shaft, or when nothing is
    said of the height.
    """
    length = ride_height.centres.mm if ride_height.centres is not None else 0.0
    down, left = ride_height.down, ride_height.left
    low = ride_height.lower if down is None else None
    aside = ride_height.offset_left if left is None else None
    if down is None and low is None:
        return None
    if down is not None:
        level = _level(length, aside or 0.0, tan(down))
    elif left is not None:
        level = _level(length, low or 0.0, tan(left))
    else:
        level = _level(length, hypot(low or 0.0, aside or 0.0), 0.0)
    if level is None:
        return None
    down = atan((low or 0.0) / level) if down is None else down
    left = atan((aside or 0.0) / level) if left is None else left
    return down, left


def _level(length: float, offset: float, slope: float) -> float | None:
    """Level length of a line so long, so far off one way, and with this tangent the other way."""
    rest = length**2 - offset**2
    return sqrt(rest / (1.0 + slope**2)) if rest > 0.0 else None


def ride_of(
    output: Output, axle: Axle, ride_height: RideHeight | None, carrier: Carrier | None = None
) -> Ride | None:
    """Both joints at ride height; None when what is given does not place the output joint.

    The coordinates of the output joint go first; without them it lies one shaft length from the
    pinion joint, against the direction of the shaft. With a carrier bearing the shaft is the
    rear section, which hangs on the end of the front one.
    """
    p_C_pinion = pinion_joint(axle)
    if output.joint is not None:
        p_C_output = read_only(millimetres(output.joint))
    else:
        if ride_height is None or ride_height.centres is None:
            return None
        slopes = shaft_slopes(ride_height)
        if slopes is None:
            return None
        down, left = slopes
        shaft = spoken_direction(forward=axle.front, down=down, left=left)
        p_C_output = read_only(p_C_pinion - ride_height.centres.mm * shaft)
    points = spoken_direction(forward=axle.front, down=output.down, left=output.left)
    section = None
    if carrier is not None:
        if output.joint is None:
            return None
        section = FrontSection(
            p_C_output,
            -points,
            read_only(millimetres(carrier.bearing)),
            carrier.middle_joint_beyond.mm,
            carrier.phase.rad,
        )
        p_C_output, points = section.p_C_middle, section.axis_C
    return Ride(
        front=axle.front,
        p_C_output=p_C_output,
        p_C_pinion=p_C_pinion,
        output_points=points,
        pinion_points=pinion_points(axle),
        section=section,
    )
