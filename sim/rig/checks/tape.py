"""A tape held to what is not there, or that contradicts the joints."""

from collections.abc import Iterator

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.ride import Ride
from sim.rig.carrier import Carrier
from sim.rig.datum import DatumError, datums_of, taped
from sim.rig.ends import Output, RideHeight
from sim.rig.shaft import Shaft
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed


def tape_can_be(
    output: Output,
    ride_height: RideHeight | None,
    carrier: Carrier | None,
    shaft: Shaft,
    ride: Ride | None,
) -> Iterator[Problem]:
    """The parts must have the datums, and the tape agree with joints that are placed by others."""
    tape = None if ride_height is None else ride_height.tape
    if ride_height is None or tape is None:
        return
    key, came = "ride_height.tape.reads", as_typed(tape.reads.typed)
    try:
        datums = datums_of(tape, shaft, carrier)
    except DatumError as fault:
        held = getattr(tape, fault.key)
        yield Problem(f"ride_height.tape.{fault.key}", as_typed(held), fault.expected, fault.why)
        return
    except BindpointError:  # parts that cannot be, which is told of themselves
        return
    by_tape = output.joint is None and ride_height.length is None
    if by_tape and ride_height.centres is None:
        if ride_height.down is not None or ride_height.lower is not None:
            yield Problem(key, came, Remark("longer-tape"), Remark("leaves-no-shaft"))
        return
    if ride is None:
        return
    if by_tape:
        if ride.length < LIMITS.shortest:
            yield Problem(
                key,
                came,
                Remark("least-length", least=LIMITS.shortest),
                Remark("leaves-less-than-yokes", length=ride.length),
            )
        return
    there = taped(ride, *datums)
    if abs(there - tape.reads.mm) > LIMITS.length:
        yield Problem(
            key,
            came,
            Remark("tape-as-joints-lie", reads=there, within=LIMITS.length),
            Remark("contradicts", what="the joints"),
        )
