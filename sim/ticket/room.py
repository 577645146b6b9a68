"""What a ticket says of the room at the joints and beside the shaft over the whole travel."""

from __future__ import annotations

from collections.abc import Iterator

from sim.assessment import Assessment
from sim.remark import Remark


def room_flags(whole: Assessment) -> Iterator[Remark]:
    """What touches or has less room than wanted, as a check judges it."""
    reserve, wanted = whole.reserve, whole.rig.wanted.gap
    for joint, found in whole.joints.items():
        if found.margin <= 0.0:
            yield Remark("touches", joint=joint, clear=found.clear, bent=found.most)
        elif found.margin < reserve:
            yield Remark("joint-close", joint=joint, left=found.margin, wanted=reserve)
    for joint, gap in whole.tight_gaps.items():
        yield Remark("joint-gap", joint=joint, gap=gap, wanted=wanted.mm, typed=str(wanted))
    clearance = whole.rig.wanted.clearance.mm
    for near in whole.near:
        if near.touches:
            yield Remark("hits-surroundings", part=near.called, name=near.name)
        elif near.certified_mm < clearance:
            yield Remark(
                "near-surroundings",
                part=near.called,
                name=near.name,
                gap=near.sure_mm,
                wanted=clearance,
            )
