"""The first pose at which a joint touches as the axle leaves ride height, for each wrap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.line import line
from sim.tolerances import TOL
from sim.vehicle import Joint, Pose, TravelBox, Vehicle
from sim.worst import extremes

Direction = Literal["down", "up"]

STEPS = 128
"""Steps from ride height to the end of travel in which a rising bend is noticed. A hump between
two nodes is found as well: each node above its neighbours is searched for its peak."""

WRAPS = 4
"""Wraps each way from none to the limit."""

ZOOMS = 12
"""Halvings of the neighbourhood in roll and wrap when the very first contact is narrowed down."""

AROUND = np.array([(r, w) for r in (-1.0, 0.0, 1.0) for w in (-1.0, 0.0, 1.0) if r or w])
"""Neighbours in roll and wrap, in steps."""

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
    """First contact at one roll and one wrap; None where the whole way is clear."""

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
    `TOL.contact_travel`; a joint that touches at ride height already has its contact there.
    """
    search = _Search(vehicle, np.array([touch_output, touch_pinion]), direction)
    box = vehicle.travel
    wraps = _unique(
        [
            *np.linspace(-box.nose_down, 0.0, WRAPS + 1),
            *np.linspace(0.0, box.nose_up, WRAPS + 1),
        ]
    )
    rolls = sorted({-box.roll, 0.0, box.roll}, key=abs)
    rows = search.rows([(roll, wrap) for wrap in wraps for roll in rolls])
    return FirstContact(search.nearest(rows), rows)


def _unique(values: Sequence[float]) -> list[float]:
    return sorted({float(value) + 0.0 for value in values})


class _Search:
    """Searches along travel, many rolls and wraps at a time."""

    def __init__(self, vehicle: Vehicle, touch: FloatArray, direction: Direction) -> None:
        self.vehicle, self.touch = vehicle, touch
        down = direction == "down"
        self.end = -vehicle.travel.droop if down else vehicle.travel.bump
        box = vehicle.travel
        self.box = TravelBox(
            bump=0.0 if down else box.bump,
            droop=box.droop if down else 0.0,
            roll=box.roll,
            nose_up=box.nose_up,
            nose_down=box.nose_down,
        )

    def past(self, travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Bend beyond the touch bend (rad) at both joints, (2, ...)."""
        state = line(self.vehicle, travel, roll, wrap)
        bends = np.stack([state.output_bend, state.pinion_bend])
        beyond = bends - self.touch.reshape(2, *[1] * (bends.ndim - 1))
        return np.where(np.isnan(beyond), -np.inf, beyond)

    def rows(self, states: Sequence[tuple[float, float]]) -> tuple[ContactRow, ...]:
        """First contact for each (roll, wrap)."""
        roll, wrap = (np.array(column) for column in zip(*states, strict=True))
        travel = self.first_travel(roll, wrap)
        distance = np.where(np.isnan(travel), np.inf, np.abs(travel))
        names = self.vehicle.joint_names
        joint: list[int] = np.argmin(distance, axis=0).tolist()
        found = []
        for i, (r, w) in enumerate(states):
            t = float(travel[joint[i], i])
            contact = None if np.isnan(t) else Contact(Pose(t, r, w), names[joint[i]])
            found.append(ContactRow(r, w, contact))
        return tuple(found)

    def first_travel(self, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        """Travel (2, m) at which each joint first touches at each roll and wrap; nan if never."""
        nodes = np.linspace(0.0, self.end, STEPS + 1) if self.end else np.zeros(1)
        beyond = self.past(nodes, roll[:, None], wrap[:, None])
        clear, touching = self._first_bracket(beyond, nodes, roll, wrap)
        at_ride = beyond[..., 0] >= 0.0
        todo = np.isfinite(touching) & ~at_ride
        j, path = np.nonzero(todo)
        r, w = roll[path], wrap[path]
        low, high = clear[todo], touching[todo]
        while low.size and np.max(np.abs(high - low)) > TOL.contact_travel:
            middle = 0.5 * (low + high)
            hit = self._of_joint(j, middle, r, w) >= 0.0
            low, high = np.where(hit, low, middle), np.where(hit, middle, high)
        travel = np.full(clear.shape, np.nan)
        travel[todo] = high
        travel[at_ride] = 0.0
        return travel

    def _first_bracket(
        self, beyond: FloatArray, nodes: FloatArray, roll: FloatArray, wrap: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Travel that is clear and travel that touches, the first such pair; (2, m) each."""
        hit = beyond >= 0.0
        first = np.where(hit.any(axis=-1), hit.argmax(axis=-1), len(nodes))
        last = np.minimum(first, len(nodes) - 1)
        clear = np.where(first < len(nodes), nodes[np.maximum(last - 1, 0)], np.nan)
        touching = np.where(first < len(nodes), nodes[last], np.nan)
        padded = np.pad(beyond, [(0, 0), (0, 0), (1, 1)], constant_values=-np.inf)
        peak = (beyond >= padded[..., :-2]) & (beyond >= padded[..., 2:]) & np.isfinite(beyond)
        peak &= np.arange(len(nodes)) < first[..., None]
        peak &= _could_reach(beyond)
        j, path, node = np.nonzero(peak)
        before = nodes[np.maximum(node - 1, 0)]
        after = nodes[np.minimum(node + 1, len(nodes) - 1)]
        top = self._peak(j, before, after, roll[path], wrap[path])
        over = self._of_joint(j, top, roll[path], wrap[path]) >= 0.0
        for i in np.flatnonzero(over)[::-1]:
            clear[j[i], path[i]], touching[j[i], path[i]] = before[i], top[i]
        return clear, touching

    def _peak(
        self,
        joint: NDArray[np.intp],
        low: FloatArray,
        high: FloatArray,
        roll: FloatArray,
        wrap: FloatArray,
    ) -> FloatArray:
        """Travel of the greatest bend between two travels, by golden section, (k,)."""
        while low.size and np.max(np.abs(high - low)) > TOL.contact_travel:
            one, two = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
            rising = self._of_joint(joint, one, roll, wrap) < self._of_joint(joint, two, roll, wrap)
            low, high = np.where(rising, one, low), np.where(rising, high, two)
        return 0.5 * (low + high)

    def _of_joint(
        self, joint: NDArray[np.intp], travel: FloatArray, roll: FloatArray, wrap: FloatArray
    ) -> FloatArray:
        return self.past(travel, roll, wrap)[joint, np.arange(len(joint))]

    def nearest(self, rows: Sequence[ContactRow]) -> Contact | None:
        """Narrow down the contact nearest to ride height over all roll and wrap."""
        best = _nearest(rows) or self._between()
        step = np.array(
            [0.5 * self.box.roll, (self.box.nose_up + self.box.nose_down) / (2 * WRAPS)]
        )
        low, high = self.box.low[1:], self.box.high[1:]
        smallest = step * 0.5**ZOOMS
        while best is not None and best.at.travel != 0.0 and (step > smallest).any():
            at = np.array([best.at.roll, best.at.wrap])
            around = np.clip(at + step * AROUND, low, high)
            closer = _nearest(self.rows([(float(r), float(w)) for r, w in around]))
            gain = abs(best.at.travel) - abs(closer.at.travel) if closer else 0.0
            if closer is not None and gain > TOL.contact_travel:
                best = closer
            else:
                step = 0.5 * step
        return best

    def _between(self) -> Contact | None:
        """Contact that lies between the rolls and wraps of all rows, if there is one."""
        seeds = extremes(self.past, self.box, [(0, "most"), (1, "most")])
        states = [(seed.at.roll, seed.at.wrap) for seed in seeds if seed.value >= 0.0]
        return _nearest(self.rows(states)) if states else None


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


def _nearest(rows: Sequence[ContactRow]) -> Contact | None:
    return _closer(row.contact for row in rows)
