"""What was read on a joint goes with it, and stays what it was whatever becomes of the truck."""

from __future__ import annotations

from math import degrees
from typing import Any

from sim.bench.readings import told
from sim.rig import Rig, changed
from sim.rig.typed_joints import TypedJoint, typed_joints
from sim.units import Angle


def with_own_joints(before: Rig, cured: Rig) -> Rig:
    """A cured rig with the bench readings of the joints that it still has.

    A cure that puts other parts in has no readings of them. A height at which the shaft caught is
    one of the truck as it was: there the bend that it stood for is read from now on.
    """
    were = {each.joint: each for each in typed_joints(before)}
    values: dict[str, Any] = {}
    for each in typed_joints(cured):
        if not each.typed.bench:
            continue
        if _parts(each) != _parts(were.get(each.joint)):
            values[f"{each.table}.bench"] = None
        elif any(reading.catches_at is not None for reading in each.typed.bench):
            values[f"{each.table}.bench"] = _as_bends(before, each)
    return changed(cured, values) if values else cured


def _as_bends(before: Rig, joint: TypedJoint) -> list[dict[str, Any]]:
    """Readings as typed, with bends in place of heights; without heights that it never came to."""
    known = {each.number: each for each in told(before, joint.joint)}
    made = []
    for number, reading in enumerate(joint.typed.bench, start=1):
        typed = reading.model_dump(mode="json", exclude_none=True)
        if reading.catches_at is not None:
            if number not in known:
                continue
            bend, off = Angle.exactly(known[number].read), known[number].off
            typed.pop("catches_at"), typed.pop("tool", None)
            typed |= {"ears": "any", "touches_at": f"{bend.typed} +- {degrees(off):.12f} deg"}
        made.append(typed)
    return made


def _parts(joint: TypedJoint | None) -> object:
    """The parts of a joint, dimensions and all; None of no joint."""
    if joint is None:
        return None
    yokes = [(yoke.name, dict(yoke.own), yoke.file) for yoke in joint.yokes.values()]
    return joint.cross.name, dict(joint.cross.own), yokes
