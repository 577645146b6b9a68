"""The first pose at which a joint touches as the axle leaves ride height, for each wrap."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sim.frames import FloatArray
from sim.line import line
from sim.search.first_past import DIRECTIONS, Direction, FirstPast, Past, closest, nearness
from sim.search.worst import PoseFunction
from sim.vehicle import RIDE, Joint, Pose, Vehicle

__all__ = [
    "DIRECTIONS",
    "Contact",
    "ContactRow",
    "Direction",
    "FirstContact",
    "earliest",
    "first_contact",
    "past_touching",
]

WRAPS = 4
"""Wraps each way from none to the limit."""


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
    """For each wrap between its limits: straight, and crossed up both ways; none of joints that
    the axle does not move."""


def first_contact(
    vehicle: Vehicle, touch: Mapping[Joint, float], direction: Direction = "down"
) -> FirstContact:
    """Lower (or raise) the axle from ride height until a joint reaches its touch bend (rad).

    touch : of the joints that are asked. One that the axle does not move touches at ride height or
        never.

    The contact is at the height where the bend reaches the touch bend, within
    `TOL.contact_travel`, and none lies nearer to ride height by more than `TOL.contact_sooner`; a
    joint that touches at ride height already has its contact there. At a roll that the axle only
    has farther out, the way begins where it has it.
    """
    still = [
        FirstContact(Contact(RIDE, joint) if bend >= touch[joint] else None, ())
        for joint, bend in vehicle.still.items()
        if joint in touch
    ]
    moved = {joint: touch[joint] for joint in vehicle.ends if joint in touch}
    return earliest([*still, *([_moved(vehicle, moved, direction)] if moved else [])])


def _moved(vehicle: Vehicle, touch: Mapping[Joint, float], direction: Direction) -> FirstContact:
    """First contact of joints that the axle moves."""
    joints, region = tuple(touch), vehicle.travel
    search = FirstPast(past_touching(vehicle, touch), len(touch), region, direction)
    wraps = _unique(
        [
            *np.linspace(-region.nose_down, 0.0, WRAPS + 1),
            *np.linspace(0.0, region.nose_up, WRAPS + 1),
        ]
    )
    rolls = sorted({-region.most_roll, 0.0, region.most_roll}, key=abs)
    states = [(roll, wrap) for wrap in wraps for roll in rolls]
    found = search.at(states)

    def contact(first: Past | None) -> Contact | None:
        return None if first is None else Contact(first.at, joints[first.thing])

    rows = (ContactRow(r, w, contact(each)) for (r, w), each in zip(states, found, strict=True))
    return FirstContact(contact(search.nearest(closest(found))), tuple(rows))


def _unique(values: Sequence[float]) -> list[float]:
    return sorted({float(value) + 0.0 for value in values})


def past_touching(vehicle: Vehicle, touch: Mapping[Joint, float]) -> PoseFunction:
    """How far (rad) each of these joints is bent past its touch bend, (joints, ...)."""

    def past(travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        bends = line(vehicle, travel, roll, wrap).bends
        return np.stack([bends[joint] - limit for joint, limit in touch.items()])

    return past


def earliest(ways: Sequence[FirstContact]) -> FirstContact:
    """First contact of several together, each found for the same rolls and wraps."""
    rows = tuple(
        ContactRow(rows[0].roll, rows[0].wrap, _closer(row.contact for row in rows))
        for rows in zip(*(way.by_wrap for way in ways if way.by_wrap), strict=True)
    )
    return FirstContact(_closer(way.first for way in ways), rows)


def _closer(contacts: Iterable[Contact | None]) -> Contact | None:
    found = [contact for contact in contacts if contact is not None]
    return min(found, key=lambda contact: nearness(contact.at), default=None)
