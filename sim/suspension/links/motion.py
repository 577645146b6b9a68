"""The axle on links: the closure as a suspension."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from sim.frames import FloatArray, locked
from sim.suspension.base import EulerSuspension, Motion, SuspensionError
from sim.suspension.bodies import Body
from sim.suspension.links.bushes import GENERIC_GIVE, GENERIC_STIFFNESS, at_least
from sim.suspension.links.chart import Chart, chart
from sim.suspension.links.closure import Closed, Closure
from sim.suspension.links.freedom import Loose, loosest
from sim.suspension.links.give import Give, Shares
from sim.suspension.links.members import Hold, Member
from sim.suspension.links.place import LEVER
from sim.suspension.links.rows import UNKNOWNS, Rows
from sim.tolerances import TOL

CHUNK: Final = 4096
"""Poses closed at a time, so that their arrays stay in the processor's cache."""


@dataclass(frozen=True, kw_only=True)
class Links(EulerSuspension):
    """Any set of links, wishbones and arms between chassis and housing.

    Travel and roll are imposed, and the members settle the other four freedoms. Four conditions
    do so exactly. More of them are met as well as the bushes allow: the energy in the bushes is
    made least, and `give` tells what each has to give. Fewer, or four that leave a motion free,
    are refused by name. Points are given at ride height, in C (mm), so every length follows.
    """

    members: tuple[Member, ...]
    bush_stiffness: float = GENERIC_STIFFNESS
    """N/mm of each bush that has no stiffness of its own."""
    most_give: float = GENERIC_GIVE
    """Farthest (mm) that a bush gives; poses that ask for more are out of reach."""

    def __post_init__(self) -> None:
        at_least(self.bush_stiffness, "links bush_stiffness")
        at_least(self.most_give, "links most_give")
        names = [member.name for member in self.members]
        twice = {name for name in names if names.count(name) > 1}
        if twice:
            raise SuspensionError(
                f"links: the name {min(twice)!r} is given twice, expected a name for each"
            )
        free = [loose for loose in self.held if loose.hold < TOL.free_motion]
        if free:
            motions = "; ".join(f"{loose.says} (needs {loose.help})" for loose in free)
            raise SuspensionError(f"links: the set leaves the axle free: {motions}")

    @cached_property
    def holds(self) -> tuple[Hold, ...]:
        """Rows and bushes of every member."""
        return tuple(member.hold(self.bush_stiffness) for member in self.members)

    @cached_property
    def rows(self) -> Rows:
        """Every condition of the closure."""
        return Rows(self.holds)

    @cached_property
    def held(self) -> tuple[Loose, ...]:
        """The four motions that the members have to hold, the worst held first."""
        return loosest(self.rows)

    @property
    def binds(self) -> bool:
        """Whether there are more conditions than freedoms, so that bushes have to give."""
        return self.rows.count > len(UNKNOWNS)

    @cached_property
    def closure(self) -> Closure:
        """The solver."""
        return Closure(self.rows)

    @cached_property
    def shares(self) -> Shares:
        """What each bush gives for each row."""
        return Shares(self.holds)

    @cached_property
    def _chart(self) -> Chart:
        return chart(self.closure)

    def motion(self, travel: FloatArray, roll: FloatArray) -> Motion:
        """Close every pose of travel (mm) and roll (rad), broadcast; nan out of reach."""
        q = self.solved(travel, roll)
        return Motion(x=q[0], y=q[1], z=travel, roll=roll, pitch=q[2] / LEVER, yaw=q[3] / LEVER)

    def solved(self, travel: ArrayLike, roll: ArrayLike) -> FloatArray:
        """Unknowns (4, ...) of each pose: x and y in mm, pitch and yaw in rad times `LEVER`."""
        t, r = np.broadcast_arrays(np.asarray(travel, np.float64), np.asarray(roll, np.float64))
        flat_t, flat_r = t.reshape(-1), r.reshape(-1)
        q = np.empty((len(UNKNOWNS), flat_t.size))
        for start in range(0, flat_t.size, CHUNK):
            part = slice(start, start + CHUNK)
            q[:, part] = self._solved(flat_t[part], flat_r[part])
        return locked(q.reshape(len(UNKNOWNS), *t.shape))

    def give(self, travel: ArrayLike, roll: ArrayLike) -> Give:
        """What each bush gives at poses without torque, also where it is too much to reach."""
        t, r = np.broadcast_arrays(np.asarray(travel, np.float64), np.asarray(roll, np.float64))
        flat_t, flat_r = t.reshape(-1), r.reshape(-1)
        found = self._closed(flat_t, flat_r)
        e, _ = self.rows(found.q, flat_t, flat_r)
        e[:, ~found.closed] = np.nan
        return self.shares.give(e.reshape(-1, *t.shape))

    @property
    def bushes_give(self) -> Callable[[ArrayLike, ArrayLike], FloatArray] | None:
        """The most that a bush gives, where the set binds."""
        if not self.binds:
            return None
        return lambda travel, roll: self.give(travel, roll).most

    def bodies(self) -> tuple[Body, ...]:
        """The rods of every member."""
        return tuple(body for member in self.members for body in member.bodies())

    def closes(self, travel: ArrayLike, roll: ArrayLike) -> NDArray[np.bool_]:
        """Whether the lengths of the links reach each pose, whatever the bushes have to give."""
        t, r = np.broadcast_arrays(np.asarray(travel, np.float64), np.asarray(roll, np.float64))
        return self._closed(t.reshape(-1), r.reshape(-1)).closed.reshape(t.shape)

    def _solved(self, travel: FloatArray, roll: FloatArray) -> FloatArray:
        found = self._closed(travel, roll)
        reached = found.closed
        if self.binds:
            e, _ = self.rows(found.q, travel, roll)
            reached = reached & (self.shares.mm(e).max(axis=0) <= self.most_give)
        if not reached.all():
            found.q[:, ~reached] = np.nan
        return found.q

    def _closed(self, travel: FloatArray, roll: FloatArray) -> Closed:
        """Close poses from the chart; those beyond it are followed from its edge."""
        share = self._chart.share(travel, roll)
        guess = self._chart.guess(share * travel, share * roll)
        found = self.closure.close(guess, share * travel, share * roll)
        inside = found.closed & (share == 1.0)
        if inside.all():
            return found
        far, lost = ~inside & found.closed, ~found.closed & np.isfinite(travel + roll)
        share[lost] = 0.0  # the chart's guess was no good: all the way from ride height
        start = replace(found, q=np.where(lost, 0.0, found.q), closed=found.closed | lost)
        rest = far | lost
        followed = self.closure.follow(travel[rest], roll[rest], start.only(rest), share[rest])
        found.q[:, rest], found.closed[rest] = followed.q, followed.closed
        return found
