"""The first pose at which a joint touches as the axle leaves ride height, for each wrap."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.line import line
from sim.tolerances import TOL
from sim.vehicle import Joint, Pose, TravelRegion, Vehicle
from sim.worst import extremes

Direction = Literal["down", "up"]

STEPS = 128
"""Steps from ride height to the end of travel in which a rising bend is noticed. A hump between
two nodes is found as well: each node above its neighbours is searched for its peak."""

WRAPS = 4
"""Wraps each way from none to the limit."""

RISE = 2.0
"""A hump is taken to rise above its highest node by at most this many times what it falls to the
lower of the nodes beside; a parabola rises by a quarter of that at most."""

GOLDEN = 0.5 * (5.0**0.5 - 1.0)


@dataclass(frozen=True)
class Contact:
    """Where a joint first touches."""

    at: Pose
    joint: Joint


@dataclass(frozen=True)
class ContactRow:
    """First contact at one roll and one wrap.

    None where the axle never has both, or where all heights at which it has are clear.
    """

    roll: float
    wrap: float
    contact: Contact | None


@dataclass(frozen=True)
class FirstContact:
    """First contact on the way from ride height to the end of travel."""

    first: Contact | None
    """The one nearest to ride height over all roll and wrap; None where all are clear."""
    by_wrap: tuple[ContactRow, ...]
    """For each wrap between its limits: straight, and crossed up both ways."""


def first_contact(
    vehicle: Vehicle,
    touch_output: float,
    touch_pinion: float,
    direction: Direction = "down",
) -> FirstContact:
    """Lower (or raise) the axle from ride height until a joint reaches its touch bend (rad).

    The contact is at the height where the bend reaches the touch bend, within
    `TOL.contact_travel`, and none lies nearer to ride height by more than `TOL.contact_sooner`; a
    joint that touches at ride height already has its contact there. At a roll that the axle only
    has farther out, the way begins where it has it.
    """
    search = _Search(vehicle, np.array([touch_output, touch_pinion]), direction)
    region = vehicle.travel
    wraps = _unique(
        [
            *np.linspace(-region.nose_down, 0.0, WRAPS + 1),
            *np.linspace(0.0, region.nose_up, WRAPS + 1),
        ]
    )
    rolls = sorted({-region.most_roll, 0.0, region.most_roll}, key=abs)
    rows = search.rows([(roll, wrap) for wrap in wraps for roll in rolls])
    return FirstContact(search.nearest(rows), rows)


def _unique(values: Sequence[float]) -> list[float]:
    return sorted({float(value) + 0.0 for value in values})


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


class _Search:
    """Searches along travel, many ways at a time."""

    def __init__(self, vehicle: Vehicle, touch: FloatArray, direction: Direction) -> None:
        self.vehicle, self.touch = vehicle, touch
        self.down = direction == "down"
        self.region = self._within(np.inf)

    def _within(self, far: float) -> TravelRegion:
        """The part of the region up to so far (mm) from ride height, on this side of it."""
        whole = self.vehicle.travel
        return whole.part(-far, 0.0) if self.down else whole.part(0.0, far)

    def past(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Bend beyond the touch bend (rad) at both joints, (2, ...)."""
        state = line(self.vehicle, travel, roll, wrap)
        bends = np.stack([state.output_bend, state.pinion_bend])
        beyond = bends - self.touch.reshape(2, *[1] * (bends.ndim - 1))
        return np.where(np.isnan(beyond), -np.inf, beyond)

    def rows(self, states: Sequence[tuple[float, float]]) -> tuple[ContactRow, ...]:
        """First contact for each (roll, wrap)."""
        roll, wrap = (np.array(column) for column in zip(*states, strict=True))
        low, high = self.region.travel_limits(roll, wrap)
        start, end = (high, low) if self.down else (low, high)

        def at(travel: FloatArray, way: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
            return _beside(travel, roll[way]), _beside(travel, wrap[way])

        found = self._contacts(_Ways(start, end, at))
        return tuple(
            ContactRow(r, w, contact) for (r, w), contact in zip(states, found, strict=True)
        )

    def on_the_way_to(self, poses: Sequence[Pose]) -> list[Contact | None]:
        """First contact on the way from ride height to poses in the region.

        Roll and wrap stay the same shares of what there is of them at each height.
        """
        region = self.region
        end = np.array([pose.travel for pose in poses])
        roll = _share(np.array([pose.roll for pose in poses]), region.roll_limit(end))
        wrap = np.array([pose.wrap for pose in poses])
        least, most = region.wrap_limits(end)
        wrap = np.where(wrap < 0.0, -_share(wrap, least), _share(wrap, most))

        def at(travel: FloatArray, way: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
            least, most = region.wrap_limits(travel)
            share = _beside(travel, wrap[way])
            turned = np.where(share < 0.0, -share * least, share * most)
            return _beside(travel, roll[way]) * region.roll_limit(travel), turned

        return self._contacts(_Ways(np.zeros(end.shape), end, at))

    def _contacts(self, ways: _Ways) -> list[Contact | None]:
        """First contact on each way."""
        travel = self.first_travel(ways)
        distance = np.where(np.isnan(travel), np.inf, np.abs(travel))
        joint = np.argmin(distance, axis=0)
        way = np.arange(len(joint))
        first = travel[joint, way]
        roll, wrap = ways.at(first, way)
        found = []
        for i, name in enumerate(self.vehicle.joint_names[j] for j in joint.tolist()):
            pose = Pose(float(first[i]), float(roll[i]), float(wrap[i]))
            found.append(None if np.isnan(first[i]) else Contact(pose, name))
        return found

    def first_travel(self, ways: _Ways) -> FloatArray:
        """Travel (2, m) at which each joint first touches on each way; nan if never."""
        steps = np.linspace(0.0, 1.0, STEPS + 1)
        nodes = (1.0 - steps) * ways.start[:, None] + steps * ways.end[:, None]
        every = np.arange(len(nodes))
        beyond = self.past(nodes, *ways.at(nodes, every))
        clear, touching = self._first_bracket(beyond, nodes, ways)
        at_start = beyond[..., 0] >= 0.0
        todo = np.isfinite(touching) & ~at_start
        j, way = np.nonzero(todo)
        low, high = clear[todo], touching[todo]
        while low.size and np.max(np.abs(high - low)) > TOL.contact_travel:
            middle = 0.5 * (low + high)
            hit = self._of_joint(j, middle, way, ways) >= 0.0
            low, high = np.where(hit, low, middle), np.where(hit, middle, high)
        travel = np.full(clear.shape, np.nan)
        travel[todo] = high
        travel[at_start] = np.broadcast_to(ways.start, clear.shape)[at_start]
        return travel

    def _first_bracket(
        self, beyond: FloatArray, nodes: FloatArray, ways: _Ways
    ) -> tuple[FloatArray, FloatArray]:
        """Travel that is clear and travel that touches, the first such pair; (2, m) each."""
        count = nodes.shape[-1]
        hit = beyond >= 0.0
        first = np.where(hit.any(axis=-1), hit.argmax(axis=-1), count)
        last = np.minimum(first, count - 1)
        every = np.arange(len(nodes))
        clear = np.where(first < count, nodes[every, np.maximum(last - 1, 0)], np.nan)
        touching = np.where(first < count, nodes[every, last], np.nan)
        padded = np.pad(beyond, [(0, 0), (0, 0), (1, 1)], constant_values=-np.inf)
        peak = (beyond >= padded[..., :-2]) & (beyond >= padded[..., 2:]) & np.isfinite(beyond)
        peak &= np.arange(count) < first[..., None]
        peak &= _could_reach(beyond)
        j, way, node = np.nonzero(peak)
        before = nodes[way, np.maximum(node - 1, 0)]
        after = nodes[way, np.minimum(node + 1, count - 1)]
        top = self._peak(j, before, after, way, ways)
        over = self._of_joint(j, top, way, ways) >= 0.0
        for i in np.flatnonzero(over)[::-1]:
            clear[j[i], way[i]], touching[j[i], way[i]] = before[i], top[i]
        return clear, touching

    def _peak(
        self,
        joint: NDArray[np.intp],
        low: FloatArray,
        high: FloatArray,
        way: NDArray[np.intp],
        ways: _Ways,
    ) -> FloatArray:
        """Travel of the greatest bend between two travels, by golden section, (k,)."""
        while low.size and np.max(np.abs(high - low)) > TOL.contact_travel:
            one, two = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
            rising = self._of_joint(joint, one, way, ways) < self._of_joint(joint, two, way, ways)
            low, high = np.where(rising, one, low), np.where(rising, high, two)
        return 0.5 * (low + high)

    def _of_joint(
        self, joint: NDArray[np.intp], travel: FloatArray, way: NDArray[np.intp], ways: _Ways
    ) -> FloatArray:
        return self.past(travel, *ways.at(travel, way))[joint, np.arange(len(joint))]

    def nearest(self, rows: Sequence[ContactRow]) -> Contact | None:
        """The contact nearest to ride height over all roll and wrap.

        As long as a joint touches anywhere nearer than the nearest contact known, the way to where
        it is past touching most has a nearer one. At the last, nothing nearer is past touching.
        """
        best = _closer(row.contact for row in rows)
        while best is None or abs(best.at.travel) > TOL.contact_sooner:
            far = np.inf if best is None else abs(best.at.travel) - TOL.contact_sooner
            tops = extremes(self.past, self._within(far), [(0, "most"), (1, "most")])
            past = [top.at for top in tops if top.value >= 0.0]
            closer = _closer(self.on_the_way_to(past)) if past else None
            if closer is None:
                return best
            best = closer
        return best


def _beside(travel: FloatArray, values: FloatArray) -> FloatArray:
    """Values (k,), one for each way, as they stand beside travels (k, ...)."""
    return np.broadcast_to(values.reshape(-1, *[1] * (travel.ndim - 1)), travel.shape)


def _share(part: FloatArray, whole: FloatArray) -> FloatArray:
    """Share of a whole; none of nothing."""
    return np.divide(part, whole, out=np.zeros(part.shape), where=whole != 0.0)


def earlier(one: FirstContact, other: FirstContact) -> FirstContact:
    """First contact of two together, each found for the same rolls and wraps."""
    rows = tuple(
        ContactRow(a.roll, a.wrap, _closer([a.contact, b.contact]))
        for a, b in zip(one.by_wrap, other.by_wrap, strict=True)
    )
    return FirstContact(_closer([one.first, other.first]), rows)


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


def _closer(contacts: Iterable[Contact | None]) -> Contact | None:
    found = [contact for contact in contacts if contact is not None]
    return min(found, key=lambda contact: abs(contact.at.travel), default=None)
