"""What a rig comes to when everything that may be off is, draw by draw.

A draw puts every source off by so many of its deviations, builds the vehicle of that rig and looks
at it in few poses: a ladder of heights, and the worst poses that the sweep of the rig as it is
found, moved along with the ends of the travel. Joints touch where their shape has it by the same
draw. What a look misses of a whole sweep at the numbers as they are is added to every draw, so that
the middle is exactly what the check says.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars.drawn import Drawn, Key, Limits, judge
from sim.bars.look import FIRST, VALUE, Of
from sim.bars.near import near_of
from sim.bars.rigs import Rigs
from sim.bench.shape import Free, Shape
from sim.frames import FloatArray
from sim.vehicle import Joint


@dataclass(frozen=True, eq=False)
class Model:
    """A rig with all that may be off.

    Columns of a draw are standard normals, independent of each other: first one for each source
    that is not a matter of a joint's shape, in the order of their keys, then those of each shape.
    So what is drawn with a seed does not depend on the order of the sources.

    Attributes
    ----------
    found : what the rig as it is comes to.
    sources : what may be off; those of a joint that has a shape are in its shape.
    shapes : of each joint whose parts may be off.
    """

    found: Assessment
    sources: tuple[Source, ...]
    shapes: Mapping[Joint, Shape] = field(default_factory=dict)

    @cached_property
    def moving(self) -> tuple[Source, ...]:
        """Sources that are a column of their own, in the order of the columns."""
        mine = [each for each in self.sources if each.joint not in self.shapes]
        return tuple(sorted(mine, key=lambda each: each.key))

    @cached_property
    def free(self) -> tuple[Free, ...]:
        """Dimensions of the shapes, in the order of the columns behind the sources."""
        return tuple(each for joint in sorted(self.shapes) for each in self.shapes[joint].free)

    @property
    def shaped(self) -> tuple[Joint, ...]:
        """Which joint each of those is of."""
        return tuple(joint for joint in sorted(self.shapes) for _ in self.shapes[joint].free)

    @property
    def keys(self) -> tuple[str, ...]:
        """Key path of every column."""
        return (*(each.key for each in self.moving), *(each.key for each in self.free))

    def margins(self, z: FloatArray) -> Mapping[Key, FloatArray]:
        """How far from touching (n,), mm or rad by finding, draws `z` (n, k) are; see `Drawn`."""
        return self.drawn(z).left

    def drawn(self, z: FloatArray) -> Drawn:
        """Everything that draws `z` (n, k) come to."""
        return self.judged(z, self.moved(z))

    def moved(self, z: FloatArray) -> FloatArray:
        """Where the shaft runs in draws `z` (n, k): (n, looked at, `NUMBERS`).

        nan where a rig cannot be.
        """
        return self.put_right(self._looked(z))

    def put_right(self, looked: FloatArray) -> FloatArray:
        """Looks (n, looked at, `NUMBERS`) with what a look at the rig as it is misses."""
        right: FloatArray = looked + self._missed
        return right

    def _looked(self, z: FloatArray) -> FloatArray:
        return self.rigs.looked(z, {joint: each.clear for joint, each in self.limits(z).items()})

    def judged(self, z: FloatArray, moved: FloatArray) -> Drawn:
        """What draws `z` come to where the shaft runs so."""
        named = dict(zip(self.looked_at, np.moveaxis(moved, 1, 0), strict=True))
        return judge(named, self.limits(z), self.found.rig.wanted.gap.mm)

    @cached_property
    def looked_at(self) -> tuple[Of, ...]:
        """What is looked at, in order."""
        return self.rigs.looked_at

    @cached_property
    def rigs(self) -> Rigs:
        """What draws the rigs; shapes of joints stay as they are."""
        found, swept = self.found, self.found.swept
        bends = [swept.joints[joint].most.at for joint in found.vehicle.ends]
        worst = dict.fromkeys([*bends, swept.slip.shortest.at, swept.slip.longest.at])
        return Rigs(found.rig, self.moving, found.vehicle.travel, tuple(worst), near_of(found))

    def limits(self, z: FloatArray) -> dict[Joint, Limits]:
        """Limits of every joint in draws `z` (n, k)."""
        return {joint: self._limits(joint, z) for joint in self.found.joints}

    def _limits(self, joint: Joint, z: FloatArray) -> Limits:
        room, none = self.found.joints[joint].room, np.zeros(len(z))
        clear, keeps = none + room.clear, none + room.keeps.certified_clear
        shape = self.shapes.get(joint)
        if shape is not None:
            mine = z[:, self._columns[joint]]
            middle = np.zeros((1, mine.shape[1]))
            clear += shape.clear(mine) - shape.clear(middle) + shape.later
            keeps += shape.keeps(mine) - shape.keeps(middle) + shape.later
        return Limits(clear, np.minimum(keeps, clear))

    @cached_property
    def _columns(self) -> dict[Joint, slice]:
        """Columns of each shape."""
        columns, start = {}, len(self.moving)
        for joint in sorted(self.shapes):
            columns[joint] = slice(start, start + len(self.shapes[joint].free))
            start = columns[joint].stop
        return columns

    @cached_property
    def _missed(self) -> FloatArray:
        """(looked at, `NUMBERS`) what a look at the rig as it is misses of its check."""
        clear = {joint: np.array([each.room.clear]) for joint, each in self.found.joints.items()}
        looked = self.rigs.looked(np.zeros((1, len(self.keys))), clear)[0]
        swept = self.found.swept
        true = np.full(looked.shape, np.nan)
        bends = {str(joint): each for joint, each in self.found.joints.items()}
        gaps = {each.name: each for each in self.found.near}
        for row, (what, name) in enumerate(self.looked_at):
            if what == "bend" and name is not None:
                found = bends[name]
                true[row, VALUE] = found.most
                if found.margin <= 0.0 and found.first is not None:
                    true[row, FIRST] = found.first.travel
            elif what == "near" and name is not None and not gaps[name].touches:
                true[row, VALUE] = gaps[name].sure_mm
            elif what == "shortest":
                true[row, VALUE] = swept.slip.shortest.value
            elif what == "longest":
                true[row, VALUE] = swept.slip.longest.value
        missed: FloatArray = np.nan_to_num(true - looked)
        return missed
