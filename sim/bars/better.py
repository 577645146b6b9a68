"""What could be read better: every number of a draw, with which tool, how far off it is then."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot, inf, sqrt
from typing import Final

import numpy as np

from sim.accuracy.source import SURE, Source, Unit, Why
from sim.bars.draws import normal_draws
from sim.bars.model import Model
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.rig import Rig
from sim.rig.tools import Of, better_tools, tools_of, usual_tool
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint

REACH: Final = {"steel rule": 609.6}
"""mm. Tools that read no longer than so much: rules of a shop are 24 in long (from memory)."""

JOINTS_DRAWN: Final = 4096
"""Draws by which it is told how far the touch of a joint spreads."""


@dataclass(frozen=True)
class Reading:
    """Something that may be read again, better than it was.

    Attributes
    ----------
    of : what it is and how far off now; of a whole joint the bend that it is clear to.
    columns : of a draw, that it tells.
    better, better_off : the tool, and how far off (mm or rad) 95 of 100 of its readings are.
    joint : of which it tells the whole touch; None where it is a number of a column.
    yokes : the joint of whose yokes it is one dimension; None else.
    """

    of: Source
    columns: tuple[int, ...]
    better: str
    better_off: float
    joint: Joint | None = None
    yokes: Joint | None = None

    @property
    def left(self) -> float:
        """Share of its deviation that is left after it.

        A generic part was not read yet: what was known of it and the reading go together
        [derivation: two normals, each weighed by how sure it is]. What was read is forgotten for
        the better reading, and so is what was assumed.
        """
        before = self.better_off if self.of.why == "generic part" else 0.0
        return self.better_off / hypot(self.of.off, before)

    def leaves(self, share: float) -> float:
        """Share that is left of the doubt, to first order, where so much of it is this one's."""
        return sqrt(max(0.0, 1.0 - share * (1.0 - self.left**2)))


def readings(model: Model) -> Iterator[Reading]:
    """Everything that can be read better than it was."""
    rig, start = model.found.rig, len(model.moving)
    bends = tools_of(rig.measured_with)[usual_tool("angle").name].angle
    for n, source in enumerate(model.moving):
        tool = better_tool(rig, source.value, source.unit, source.off)
        if tool is not None:
            yield Reading(source, (n,), *tool)
    for joint in sorted(model.shapes):
        free = model.shapes[joint].free
        columns = tuple(range(start, start + len(free)))
        start += len(free)
        read = bool(typed_joint(rig, joint).typed.bench)
        if read or not all(each.measured for each in free):
            yield Reading(_touch_of(model, joint), columns, "", bends or 0.0, joint)
        if read:
            continue  # its readings tie the dimensions together: no column is one of them
        for n, each in zip(columns, free, strict=True):
            tool = better_tool(rig, each.value, "mm", each.off, part=True)
            if tool is not None:
                yield Reading(_dimension(each), (n,), *tool, yokes=joint)


def better_tool(
    rig: Rig, value: float, unit: Unit, off: float, part: bool = False
) -> tuple[str, float] | None:
    """The tool that would read a number closest, and how far off; None where none is much closer.

    value, off : mm or rad. part : whether it is a dimension of a part, in the hand.
    """
    of: Of = "angle" if unit == "rad" else "part" if part else "length"
    for tool in better_tools(off, of, rig.measured_with):
        far = tool.angle if unit == "rad" else tool.length
        if far and abs(value) <= REACH.get(tool.name, inf):
            return tool.name, far
    return None


def _dimension(free: Free) -> Source:
    why: Why = "typed" if free.measured else "generic part"
    return Source(free.key, free.value, "mm", free.off, why)


def _touch_of(model: Model, joint: Joint) -> Source:
    """The bend that a joint is clear to."""
    shape = model.shapes[joint]
    spread = float(np.std(shape.clear(normal_draws(len(shape.free), JOINTS_DRAWN, 0))))
    key = f"{typed_joint(model.found.rig, joint).table}.bench"
    clear = model.found.joints[joint].clear
    return Source(key, clear, "rad", SURE * max(spread, LEAST), "generic part")


LEAST: Final = 1e-9
"""rad. Spread of a joint whose touch does not hang on what is in doubt; keeps shares finite."""


def shares_by_squares(slopes: FloatArray, found: list[Reading]) -> FloatArray:
    """Share of each reading in a doubt, to first order, of the change (k,) by each column."""
    squares = slopes**2
    total = float(squares.sum())
    mine = np.array([squares[list(each.columns)].sum() for each in found])
    return mine / total if total > 0.0 else np.zeros(len(found))
