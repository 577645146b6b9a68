"""The first pose at which a joint touches as the axle leaves ride height, for each wrap."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from sim.frames import FloatArray
from sim.line import line
from sim.search.first_past import Direction, FirstPast, Past, closest, nearness
from sim.search.worst import PoseFunction
from sim.vehicle import Joint, Pose, Vehicle

__all__ = [
    "Contact",
    "ContactRow",
    "Direction",
    "FirstContact",
    "earlier",
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
    past = past_touching(vehicle, np.array([touch_output, touch_pinion]))
    region = vehicle.travel
    search = FirstPast(past, 2, region, direction)
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
        return None if first is None else Contact(first.at, vehicle.joint_names[first.thing])

    rows = (ContactRow(r, w, contact(each)) for (r, w), each in zip(states, found, strict=True))
    return FirstContact(contact(search.nearest(closest(found))), tuple(rows))


def _unique(values: Sequence[float]) -> list[float]:
    return sorted({float(value) + 0.0 for value in values})


def past_touching(vehicle: Vehicle, touch: FloatArray) -> PoseFunction:
    """How far (rad) each joint is bent past the bend at which it touches, (2, ...)."""

    def past(travel: FloatArray, roll: FloatArray, wrap: FloatArray) -> FloatArray:
        state = line(vehicle, travel, roll, wrap)
        bends = np.stack([state.output_bend, state.pinion_bend])
        beyond: FloatArray = bends - touch.reshape(2, *[1] * (bends.ndim - 1))
        return beyond

    return past


def earlier(one: FirstContact, other: FirstContact) -> FirstContact:
    """First contact of two together, each found for the same rolls and wraps."""
    rows = tuple(
        ContactRow(a.roll, a.wrap, _closer([a.contact, b.contact]))
        for a, b in zip(one.by_wrap, other.by_wrap, strict=True)
    )
    return FirstContact(_closer([one.first, other.first]), rows)


def _closer(contacts: Iterable[Contact | None]) -> Contact | None:
    found = [contact for contact in contacts if contact is not None]
    return min(found, key=lambda contact: nearness(contact.at), default=None)
