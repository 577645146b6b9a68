"""How long a joint's needles last at a torque, a speed and a bend; hours to one in ten."""

from dataclasses import dataclass
from math import cos, inf, pi

from sim.bearing.needles import DRAWN_CUP, STATIC_PRESSURE, BearingError, Needles
from sim.quantities import require_bend, require_not_negative, require_positive
from sim.remark import Remark

EXPONENT = 10.0 / 3.0
"""Of the life of line contact [ISO281]."""


@dataclass(frozen=True)
class JointLife:
    """One joint at one torque, speed and bend."""

    hours: float
    """Life that nine joints of ten reach; endless where nothing moves or loads it."""
    load: float
    """Greatest force of a cap, N."""
    pressure: float
    """Between trunnion and most loaded needle, MPa."""
    flags: tuple[Remark, ...]


def rating_life(rating: float, load: float) -> float:
    """Turns that nine bearings of ten reach: (C / P)^(10/3) million [ISO281]."""
    require_positive(BearingError, rating=rating)
    require_not_negative(BearingError, load=load)
    return 1e6 * (rating / load) ** EXPONENT if load > 0.0 else inf


def life_hours(rating: float, load: float, speed: float, bend: float) -> float:
    """Hours of a cap that swings by a bend (rad) either way at each turn of the shaft (rad/s).

    A turn swings the cap through four bends, as much as a turn of 4 b / 2 pi: the bearing runs as
    at n b / 90 deg. The same as 1.5e6 / (n b) (C/P)^(10/3) in rpm and deg
    [SEHERR-THOSS, ch. 4, from memory; derivation].
    """
    require_not_negative(BearingError, speed=speed)
    require_bend(BearingError, bend=bend)
    swung = speed * bend / (0.5 * pi) / (2.0 * pi) * 3600.0
    return rating_life(rating, load) / swung if swung > 0.0 else inf


def joint_life(
    needles: Needles,
    arm: float,
    torque: float,
    speed: float,
    bend: float,
    factor: float = DRAWN_CUP,
) -> JointLife:
    """Life of a joint: needles, arm from cross centre to needles' middle (mm), torque (N mm).

    speed (rad/s), bend (rad). The load is the greatest over a turn, T / (2 R cos b), taken to act
    all the time, which lies on the safe side. Both caps of one shaft carry alike and all four
    swing alike; that one of four fails first is not counted. Grease, dirt and skewed ears decide
    more than this number does.
    """
    require_positive(BearingError, arm=arm)
    require_bend(BearingError, bend=bend)
    load = abs(torque) / (2.0 * arm * cos(bend))
    pressure = needles.contact_pressure(load)
    return JointLife(
        hours=life_hours(needles.dynamic_rating(factor), load, abs(speed), bend),
        load=load,
        pressure=pressure,
        flags=_flags(needles, bend, pressure),
    )


def _flags(needles: Needles, bend: float, pressure: float) -> tuple[Remark, ...]:
    found = []
    if bend < needles.overlap_swing:
        found.append(Remark("needles-do-not-overlap", bend=bend, overlaps_at=needles.overlap_swing))
    if pressure > STATIC_PRESSURE:
        found.append(Remark("needles-dent", pressure=pressure, most=STATIC_PRESSURE))
    return tuple(found)
