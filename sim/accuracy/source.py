"""One measurement, dimension or assumption of a rig that may be off, and by how much."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, Literal

from sim.rig import Rig
from sim.vehicle import Joint

SURE: Final = 1.959963984540054
"""Standard deviations that 95 of 100 readings are within [derivation: the normal distribution]."""

Unit = Literal["mm", "rad"]

Why = Literal["typed", "tool", "usual", "assumed", "generic part"]
"""Who says how far off: typed behind the value; its tool, named there or for the whole rig; the
tool that is usual for it; a value that nobody gave; a dimension of a part of the catalogue."""


@dataclass(frozen=True)
class Source:
    """What may be off, independently of every other.

    Attributes
    ----------
    key : key path, as `sim.rig.change.changed` takes it.
    value : as the rig has it, mm or rad.
    unit : of both.
    off : 95 of 100 are no farther off, either way alike; more than 0, mm or rad.
    why : who says so.
    tool : with which it was read; "" where none is known.
    joint : whose touch curve alone it changes; None where it is a matter of place and motion.
    put : the rig with this value off by so much (mm or rad). The rig is not checked like a file.
        Raises BindpointError where nothing can be made of it.
    """

    key: str
    value: float
    unit: Unit
    off: float
    why: Why
    tool: str = ""
    joint: Joint | None = None
    put: Callable[[Rig, float], Rig] = field(default=lambda rig, _: rig, repr=False, compare=False)

    @property
    def deviation(self) -> float:
        """One standard deviation, mm or rad."""
        return self.off / SURE
