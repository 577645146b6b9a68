"""The first pose at which something is past its limit as the axle leaves ride height.

What that is, such as the bend of a joint or the stroke of a slip, is a function of the pose.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from geometry.seeking import edges, summits
from sim.frames import FloatArray
from sim.search.worst import PoseFunction, extreme
from sim.tolerances import TOL
from sim.vehicle import Pose, TravelRegion

Direction = Literal["down", "up"]

DIRECTIONS: Final[tuple[Direction, Direction]] = ("down", "up")

STEPS = 128
"""Steps from ride height to the end of travel in which something that rises is noticed. A hump
between two nodes is found as well: each node above its neighbours is searched for its peak."""

RISE = 2.0
"""A hump is taken to rise above its highest node by at most this many times what it falls to the
lower of the nodes beside; a parabola rises by a quarter of that at most."""


At = Callable[[FloatArray, NDArray[np.intp]], tuple[FloatArray, FloatArray]]
"""Roll and wrap (rad) at travels (k, ...), each on the way whose number is in (k,)."""


@dataclass(frozen=True, eq=False)
class _Ways:
    """Ways of the axle away from ride height, m of them.

    start, end : (m,) travel mm; nan for a way that there is not
    at : roll and wrap along them
    """

    start: FloatArray
    end: FloatArray
    at: At


class FirstPast:
    """Searches along travel, many ways at a time.

    Parameters
    ----------
    past : how far past its limit something is.
    region : the poses that there are; those below or above ride height are looked at.
    """

    def __init__(self, past: PoseFunction, region: TravelRegion, direction: Direction) -> None:
        self._past, self.whole = past, region
        self.down = direction == "down"
        self.region = self._within(np.inf)

    def _within(self, far: float) -> TravelRegion:
        """The part of the region up to so far (mm) from ride height, on this side of it."""
        return self.whole.part(-far, 0.0) if self.down else self.whole.part(0.0, far)

    def past(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """How far past its limit it is; minus infinity where there is no answer."""
        beyond = self._past(travel, roll, wrap)
        return np.where(np.isnan(beyond), -np.inf, beyond)

    def at(self, states: Sequence[tuple[float, float]]) -> list[Pose | None]:
        """The first pose at each (roll, wrap)."""
        roll, wrap = (np.array(column) for column in zip(*states, strict=True))
        low, high = self.region.travel_limits(roll, wrap)
        start, end = (high, low) if self.down else (low, high)

        def at(travel: FloatArray, way: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
            return _beside(travel, roll[way]), _beside(travel, wrap[way])

        return self._first(_Ways(start, end, at))

    def on_the_way_to(self, pose: Pose) -> Pose | None:
        """The first pose on the way from ride height to one in the region.

        Roll and wrap stay the same shares of what there is of them at each height.
        """
        region = self.region
        end = np.array([pose.travel])
        roll = _share(np.array([pose.roll]), region.roll_limit(end))
        wrap = np.array([pose.wrap])
        least, most = region.wrap_limits(end)
        wrap = np.where(wrap < 0.0, -_share(wrap, least), _share(wrap, most))

        def at(travel: FloatArray, way: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
            least, most = region.wrap_limits(travel)
            share = _beside(travel, wrap[way])
            turned = np.where(share < 0.0, -share * least, share * most)
            return _beside(travel, roll[way]) * region.roll_limit(travel), turned

        (found,) = self._first(_Ways(np.zeros(end.shape), end, at))
        return found

    def _first(self, ways: _Ways) -> list[Pose | None]:
        """The first pose on each way."""
        travel = self.first_travel(ways)
        roll, wrap = ways.at(travel, np.arange(len(travel)))
        poses = zip(travel.tolist(), roll.tolist(), wrap.tolist(), strict=True)
        return [None if np.isnan(t) else Pose(t, r, w) for t, r, w in poses]

    def first_travel(self, ways: _Ways) -> FloatArray:
        """Travel (m,) at which it is first past its limit; nan if never."""
        steps = np.linspace(0.0, 1.0, STEPS + 1)
        there = np.isfinite(ways.start)
        start, end = (np.where(there, each, 0.0)[:, None] for each in (ways.start, ways.end))
        nodes = (1.0 - steps) * start + steps * end
        beyond = self.past(nodes, *ways.at(nodes, np.arange(len(nodes))))
        clear, touching = self._first_bracket(beyond, nodes, ways)
        at_start = beyond[:, 0] >= 0.0
        todo = np.isfinite(touching) & ~at_start
        (way,) = np.nonzero(todo)
        _, first = edges(
            lambda travel: self.past(travel, *ways.at(travel, way)) < 0.0,
            clear[todo],
            touching[todo],
            TOL.contact_travel,
        )
        travel = np.where(at_start, ways.start, np.nan)
        travel[todo] = first
        return travel

    def _first_bracket(
        self, beyond: FloatArray, nodes: FloatArray, ways: _Ways
    ) -> tuple[FloatArray, FloatArray]:
        """Travel short of the limit and travel past it, the first such pair; (m,) each."""
        count = nodes.shape[-1]
        hit = beyond >= 0.0
        first = np.where(hit.any(axis=-1), hit.argmax(axis=-1), count)
        last = np.minimum(first, count - 1)
        every = np.arange(len(nodes))
        clear = np.where(first < count, nodes[every, np.maximum(last - 1, 0)], np.nan)
        touching = np.where(first < count, nodes[every, last], np.nan)
        padded = np.pad(beyond, [(0, 0), (1, 1)], constant_values=-np.inf)
        peak = (beyond >= padded[:, :-2]) & (beyond >= padded[:, 2:]) & np.isfinite(beyond)
        peak &= np.arange(count) < first[:, None]
        peak &= _could_reach(beyond)
        way, node = np.nonzero(peak)
        before = nodes[way, np.maximum(node - 1, 0)]
        after = nodes[way, np.minimum(node + 1, count - 1)]

        def here(travel: FloatArray) -> FloatArray:
            return self.past(travel, *ways.at(travel, way))

        top = summits(here, before, after, TOL.contact_travel)
        for i in np.flatnonzero(here(top) >= 0.0)[::-1]:
            clear[way[i]], touching[way[i]] = before[i], top[i]
        return clear, touching

    def nearest(self, known: Pose | None = None) -> Pose | None:
        """The pose nearest to ride height over all roll and wrap.

        As long as it is past its limit anywhere nearer than the nearest pose known, the way to
        where it is farthest past has a nearer one. At the last, nothing nearer is past it.
        """
        best = known
        while best is None or abs(best.travel) > TOL.contact_sooner:
            far = np.inf if best is None else abs(best.travel) - TOL.contact_sooner
            top = extreme(self.past, self._within(far), "most")
            closer = self.on_the_way_to(top.at) if top.value >= 0.0 else None
            if closer is None:
                return best
            best = closer
        return best


def first_on_path(past: Callable[[FloatArray], FloatArray], end: float) -> float | None:
    """The first place from 0 on, up to `end`, at which something is past its limit; None if never.

    past : how far, at places (...) on a path; not below zero at the place that comes back, which
        lies `TOL.contact_travel` at most behind one that is not past it.
    """
    search = FirstPast(lambda place, *_: past(place), TravelRegion(0.0, 0.0, 0.0, 0.0, 0.0), "up")

    def nothing(place: FloatArray, _: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
        return np.zeros(place.shape), np.zeros(place.shape)

    (first,) = search.first_travel(_Ways(np.zeros(1), np.array([end]), nothing))
    return None if np.isnan(first) else float(first)


def closest(found: Iterable[Pose | None]) -> Pose | None:
    """The one nearest to ride height, if there is one; of several there the one least turned."""
    return min((each for each in found if each is not None), key=nearness, default=None)


def nearness(pose: Pose) -> tuple[float, float]:
    """How far a pose is from ride height: in travel (mm), then in roll and wrap together (rad)."""
    return abs(pose.travel), abs(pose.roll) + abs(pose.wrap)


def _beside(travel: FloatArray, values: FloatArray) -> FloatArray:
    """Values (k,), one for each way, as they stand beside travels (k, ...)."""
    return np.broadcast_to(values.reshape(-1, *[1] * (travel.ndim - 1)), travel.shape)


def _share(part: FloatArray, whole: FloatArray) -> FloatArray:
    """Share of a whole; none of nothing."""
    return np.divide(part, whole, out=np.zeros(part.shape), where=whole != 0.0)


def _could_reach(beyond: FloatArray) -> NDArray[np.bool_]:
    """Whether a hump at each node (last axis) could rise to zero by what it falls to either side.

    A node at an end has one neighbour; beside one that cannot be reached anything may be.
    """
    known = np.where(np.isfinite(beyond), beyond, -np.inf)
    sides = np.pad(known, [(0, 0)] * (beyond.ndim - 1) + [(1, 1)], constant_values=np.inf)
    lower = np.minimum(sides[..., :-2], sides[..., 2:])
    fall = np.where(np.isfinite(known), known, 0.0) - lower
    could: NDArray[np.bool_] = np.isfinite(known) & (known >= -RISE * np.abs(fall))
    return could
