"""When a double-Cardan head touches: both crosses and the centring together, by the whole bend.

Each cross of a head is a joint with a touch curve of its own; how the head's bend splits between
them (`sim.head.bend`) turns what they allow into bends of the whole head, and ball and socket have
their own limit. Pure arithmetic on curves found before.

From the bend at one cross the whole bend follows in closed form, by the triangle of the two
crosses and the ball:

    from the carrying cross:  bend = a + atan2(ball sin a, span - ball cos a)
    from the sliding cross:   sin(bend) = span sin(b) / ball
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from math import asin, inf, pi, sin
from types import MappingProxyType
from typing import Literal

import numpy as np

from geometry.contact.course import course
from geometry.contact.touch import Contact, TouchCurve
from geometry.contact.touching import Closeness
from geometry.head.outer_pair import OuterLimit
from geometry.head.triangle import Triangle
from geometry.head.turning import second_spin
from geometry.seeking import edges
from sim.frames import FloatArray, locked
from sim.head.bend import Head
from sim.line import limit_by_spin

LimitedBy = Literal["first cross", "second cross", "ball and socket", "outer yokes"]
"""What stops a head: the cross nearer the engine, the other one, the centring, or its two outer
yokes that meet each other."""

STEPS = 400
"""Bends up to the limit at which the second cross is compared with its curve, spin by spin; a
tenth of a degree, and narrowed down after."""

WITHIN = 1e-14
"""rad. How far it is narrowed down: to rounding."""


@dataclass(frozen=True, eq=False)
class HeadTouch:
    """When a head touches, by the bend of the whole head.

    Attributes
    ----------
    touch_total : rad, lowest bend at which something of it touches at any spin.
    certified_total : rad, nothing touches at any spin up to here. The brackets of both crosses
        add up: at most twice that of one joint, so 0.1 deg, below `touch_total`.
    limited_by : what touches at `touch_total`.
    contact : where, in the joint frame of that cross; None where it is at neither.
    surfaces : names of the two surfaces that meet.
    spin : (n,) rad, turn of the driving outer yoke over [0, 2 pi).
    touch : (n,) rad, bend of the head at which it touches at that spin.
    course : (2, m) rad, as of a `TouchCurve`; what the course of a cross is off comes on top.
    curves : the touch curves of the first and the second cross.
    """

    touch_total: float
    certified_total: float
    limited_by: LimitedBy
    contact: Contact | None
    surfaces: tuple[str, str]
    spin: FloatArray
    touch: FloatArray
    course: FloatArray
    curves: tuple[TouchCurve, TouchCurve]


def head_touch(
    head: Head,
    first: TouchCurve,
    second: TouchCurve,
    carrying_drives: bool,
    outer: OuterLimit | None = None,
) -> HeadTouch:
    """Put the touch curves of both crosses, the limit of the centring and the outer yokes together.

    first, second : of the joint at the driving outer yoke and of that at the driven one, with
        the center yoke between them
    carrying_drives : whether the yoke with the ball is the one nearer the engine
    outer : of the two outer yokes against each other; None where they were not asked
    """
    outer = OuterLimit(inf, inf) if outer is None else outer
    at_first, at_second = _totals(head, carrying_drives)
    touches: dict[LimitedBy, float] = {
        "first cross": at_first(first.touch_min),
        "second cross": at_second(second.touch_min),
        "ball and socket": head.limit,
        "outer yokes": outer.touch,
    }
    limited_by = min(touches, key=lambda what: touches[what])
    contact = {"first cross": first.first, "second cross": second.first}.get(limited_by)
    by_spin = _by_spin(head, first, second, carrying_drives, outer.touch)
    touch = by_spin(first.spin)

    def lower(spin: FloatArray, bend: FloatArray) -> FloatArray:
        found = by_spin(spin)
        found[found >= bend] = inf
        return found

    return HeadTouch(
        touch_total=touches[limited_by],
        certified_total=min(
            at_first(first.certified_clear),
            at_second(second.certified_clear),
            head.limit,
            outer.clear,
        ),
        limited_by=limited_by,
        contact=contact,
        surfaces=_AT_NEITHER.get(limited_by, ("", "")) if contact is None else contact.surfaces,
        spin=first.spin,
        touch=locked(touch),
        course=course(first.spin, touch, lower, Closeness(first.gap).true),
        curves=(first, second),
    )


_AT_NEITHER: Mapping[LimitedBy, tuple[str, str]] = MappingProxyType(
    {"ball and socket": ("stalk", "socket"), "outer yokes": ("outer yoke", "outer yoke")}
)
"""What meets where it is at neither cross."""


def total_from_carrying(head: Head, bend: float) -> float:
    """Bend of the head (rad) when the cross of the ball's yoke bends this far (rad)."""
    return Triangle.of(head.span, head.ball, bend).bend if bend < 0.5 * pi else inf


def total_from_sliding(head: Head, bend: float) -> float:
    """Bend of the head (rad) when the other cross bends this far (rad); inf where it cannot."""
    sine = head.span * sin(bend) / head.ball if bend < 0.5 * pi else inf
    return asin(sine) if sine < 1.0 else inf


def _totals(
    head: Head, carrying_drives: bool
) -> tuple[Callable[[float], float], Callable[[float], float]]:
    """Return what makes the whole bend from the bend at the first and at the second cross."""
    carrying, sliding = partial(total_from_carrying, head), partial(total_from_sliding, head)
    return (carrying, sliding) if carrying_drives else (sliding, carrying)


def _by_spin(
    head: Head, first: TouchCurve, second: TouchCurve, carrying_drives: bool, outer: float
) -> Callable[[FloatArray], FloatArray]:
    """Return what gives the bend of the head at which it touches, at spins (n,); all rad."""
    at_first, _ = _totals(head, carrying_drives)
    near_limit, allowed = limit_by_spin(*first.course), limit_by_spin(*second.course)
    bends = np.linspace(0.0, head.limit, STEPS + 1)

    def past(spin: FloatArray, bend: FloatArray) -> FloatArray:
        bends = head.split(bend).ordered(carrying_drives)
        beyond: FloatArray = bends[1] - allowed(second_spin(bends[0], spin))
        return beyond

    def touch(spin: FloatArray) -> FloatArray:
        touching = past(spin[:, None], bends) >= 0.0
        step = np.argmax(touching, axis=1)
        high, low = bends[step], bends[np.maximum(step - 1, 0)]
        far = np.where(touching.any(axis=1), high, inf)
        crossed = touching.any(axis=1) & (step > 0)
        spins = spin[crossed]
        _, far[crossed] = edges(
            lambda bend: past(spins, bend) < 0.0, low[crossed], high[crossed], WITHIN
        )
        near = np.array([at_first(bend) for bend in near_limit(spin).tolist()])
        soonest: FloatArray = np.minimum(np.minimum(near, far), min(head.limit, outer))
        return soonest

    return touch
