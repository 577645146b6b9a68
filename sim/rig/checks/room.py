"""A piece of the shaft with no room for its own two yokes."""

from collections.abc import Iterator

from geometry.errors import BindpointError
from sim.head.bend import reach_of
from sim.remark import Remark
from sim.ride import Ride
from sim.rig.carrier import Carrier
from sim.rig.checks.carrier import carrier_can_be
from sim.rig.checks.ride import joints_can_be, shaft_can_be
from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.shaft import Shaft, Tube
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed


def yokes_have_room(
    output: Output,
    axle: Axle,
    ride_height: RideHeight | None,
    carrier: Carrier | None,
    shaft: Shaft,
    ride: Ride | None,
) -> Iterator[Problem]:
    """At ride height the weld lands of each piece's yokes must not meet, nor pass each other."""
    if ride is None or any(shaft_can_be(ride_height)) or any(carrier_can_be(output, axle, carrier)):
        return
    if ride.length < LIMITS.shortest or any(joints_can_be(output, axle, carrier, ride)):
        return  # told by those checks
    try:
        yield from _too_near(ride, _placed_by(output, ride_height, carrier), shaft, carrier)
    except BindpointError:  # parts that cannot be, which is told of themselves
        return


def _placed_by(
    output: Output, ride_height: RideHeight | None, carrier: Carrier | None
) -> tuple[str, object]:
    """What decides how long the shaft is: its key and what was typed."""
    if carrier is not None:
        return "carrier.bearing", list(carrier.bearing)
    if output.joint is not None or ride_height is None:
        return "output.joint", list(output.joint or ())
    if ride_height.length is not None or ride_height.tape is None:
        length = ride_height.length
        return "ride_height.length", None if length is None else length.typed
    return "ride_height.tape.reads", ride_height.tape.reads.typed


def _too_near(
    ride: Ride, placed: tuple[str, object], shaft: Shaft, carrier: Carrier | None
) -> Iterator[Problem]:
    output = _land(shaft.output_end.cross, shaft.output_end.shaft_yoke, shaft.tube)
    pinion = _land(shaft.pinion_end.cross, shaft.pinion_end.shaft_yoke, shaft.tube)
    output_head, pinion_head = heads_of(shaft)
    pinion += float(reach_of(pinion_head, ride.pinion_bend))
    first = output + float(reach_of(output_head, ride.output_bend))
    if carrier is not None and ride.section is not None:
        stub = carrier.bearing_stub.mm if carrier.bearing_stub is not None else 0.0
        room = ride.section.to_bearing - stub
        if room <= output:
            yield _no_room(placed, room, output, front_tube=True)
        first = _land(carrier.middle.cross, carrier.middle.shaft_yoke, shaft.tube)
    if ride.length <= first + pinion:
        yield _no_room(placed, ride.length, first + pinion, front_tube=False)


def _no_room(placed: tuple[str, object], room: float, taken: float, front_tube: bool) -> Problem:
    key, typed = placed
    return Problem(
        key,
        as_typed(typed),
        Remark("more-than-yokes-take", taken=taken),
        Remark("leaves-room", room=room, front_tube=front_tube),
    )


def _land(cross: CrossChoice, yoke: YokeChoice, tube: Tube) -> float:
    """From the cross of a yoke on the shaft to where its tube begins, mm; 0 if not known."""
    if yoke.is_own:
        return float(yoke.overrides.get("weld_land", 0.0))
    return fitted_yoke(yoke, fitted_cross(cross), tube).tube_from or 0.0
