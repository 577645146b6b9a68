"""The first pose at which a joint touches as the axle leaves ride height, for each wrap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sim.line import line
from sim.search.first_past import DIRECTIONS, Direction, FirstPast, closest, nearness
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
    vehicle: Vehicle,
    joint: Joint,
    touch: float,
    direction: Direction = "down",
    touches: bool = True,
) -> FirstContact:
    """Lower (or raise) the axle from ride height until a joint reaches its touch bend (rad).

    touches : whether it does anywhere; where a sweep says that it does not, nothing is sought.

    The contact is at the height where the bend reaches the touch bend, within
    `TOL.contact_travel`, and none lies nearer to ride height by more than `TOL.contact_sooner`; a
    joint that touches at ride height already has its contact there, and one that the axle does not
    move has it there or never. At a roll that the axle only has farther out, the way begins where
    it has it.
    """
    if joint in vehicle.still:
        return FirstContact(Contact(RIDE, joint) if vehicle.still[joint] >= touch else None, ())
    region = vehicle.travel
    ways = (
        np.linspace(-region.nose_down, 0.0, WRAPS + 1),
        np.linspace(0.0, region.nose_up, WRAPS + 1),
    )
    wraps = sorted({float(wrap) + 0.0 for way in ways for wrap in way})
    rolls = sorted({-region.most_roll, 0.0, region.most_roll}, key=abs)
    states = [(roll, wrap) for wrap in wraps for roll in rolls]
    if not touches:
        return FirstContact(None, tuple(ContactRow(*state, None) for state in states))
    search = FirstPast(past_touching(vehicle, joint, touch), region, direction)
    found = search.at(states)

    def contact(first: Pose | None) -> Contact | None:
        return None if first is None else Contact(first, joint)

    rows = (ContactRow(r, w, contact(each)) for (r, w), each in zip(states, found, strict=True))
    return FirstContact(contact(search.nearest(closest(found))), tuple(rows))


def past_touching(vehicle: Vehicle, joint: Joint, touch: float) -> PoseFunction:
    """How far (rad) a joint is bent past its touch bend."""
    return lambda travel, roll, wrap: line(vehicle, travel, roll, wrap).bends[joint] - touch


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
