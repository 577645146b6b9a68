"""What was seen on a joint that the shaft does not have."""

from collections.abc import Iterator

from sim.remark import Remark
from sim.rig.carrier import Carrier
from sim.rig.seen_on_truck import SeenOnTruck
from sim.table.problems import Problem, as_typed


def seen_can_be(
    seen_on_truck: tuple[SeenOnTruck, ...], carrier: Carrier | None
) -> Iterator[Problem]:
    """Only a two-piece shaft has a middle joint."""
    for place, each in enumerate(seen_on_truck, start=1):
        if each.joint == "middle" and carrier is None:
            yield Problem(
                f"seen_on_truck[{place}].joint",
                as_typed(each.joint),
                Remark("output-or-pinion"),
                Remark("one-piece"),
            )
