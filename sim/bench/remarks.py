"""What is worth knowing of a fitted joint, wherever its result is shown."""

from __future__ import annotations

from collections.abc import Iterator

from sim.bench.fitted import FittedJoint
from sim.bench.readings import unreached
from sim.remark import Remark
from sim.rig import Rig
from sim.vehicle import Joint


def remarks(rig: Rig, joint: Joint, found: FittedJoint) -> Iterator[Remark]:
    """That it is fitted, or that no reading counts; what fights, and what says nothing."""
    low, high = found.lowest
    counted = sum(each.counts for each in found.readings)
    if counted:
        yield Remark("fitted", joint=joint, count=counted, low=low, high=high)
    else:
        yield Remark("readings-none", joint=joint)
    for each in found.contradictions:
        numbers = " and ".join(map(str, each.numbers))
        if each.kind == "readings":
            yield Remark("readings-fight", joint=joint, numbers=numbers)
        else:
            yield Remark("yoke-fight", joint=joint, numbers=numbers)
    for key in unreached(rig, joint):
        yield Remark("reading-unreached", key, joint=joint)
