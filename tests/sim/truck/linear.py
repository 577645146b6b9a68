"""Numbers that hang on what may be off in straight lines: answers known in closed form."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from sim.accuracy.source import SURE
from sim.frames import FloatArray
from sim.rig.demos import load_demo
from sim.rig.seen_on_truck import SeenOnTruck
from sim.truck.numbers import Doubtful, Numbers
from sim.truck.observed import Observed, Sense
from sim.vehicle import Pose


class Linear(Numbers):
    """`past` is `start + table @ z`."""

    start: FloatArray
    table: FloatArray

    @cached_property
    def doubtful(self) -> tuple[Doubtful, ...]:
        """One number a column, each with a deviation of one."""
        return tuple(Doubtful(f"n{i}", 0.0, "mm", SURE) for i in range(self.table.shape[1]))

    def past(self, z: FloatArray) -> FloatArray:
        """In straight lines."""
        return np.asarray(self.start + self.table @ z)


def linear(start: Sequence[float], table: FloatArray, senses: Sequence[Sense] = ()) -> Linear:
    """Things seen of which the computed is past by `start` (m,), with slopes `table` (m, k)."""
    entry = SeenOnTruck.model_validate({"at": "ride", "slip_opened": "1 in"})
    observed = tuple(
        Observed(number, entry, Pose(), sense, 0.0)
        for number, sense in enumerate(senses or ["is"] * len(start), start=1)
    )
    made = Linear(load_demo("long-legged-trail-wagon"), observed, ())
    object.__setattr__(made, "start", np.asarray(start, dtype=float))
    object.__setattr__(made, "table", np.asarray(table, dtype=float))
    return made
