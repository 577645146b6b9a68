"""How far a joint may bend at a speed, by how hard it shakes what it turns.

Two limits of the trade, in rad/s2. They are comfort and long life, not strength, and both come
out of published tables: no shaft breaks at a hundredth more.
"""

from math import pi, sqrt

from sim.cardan import greatest_acceleration
from sim.quantities import require_bend, require_not_negative, require_positive
from sim.speed.road import SpeedError

TORSIONAL = 400.0
"""What several joints together may leave at the pinion, rad/s2. A table of two joint angles on a
general reference page, read there, comes to this throughout; 300 to 400 [AE-7, from memory]."""

INERTIA = 1000.0
"""What one end joint may do to the shaft itself, rad/s2. A table of speed against joint angle of
the trade, read there, comes to 880 to 1020; 1000 for a light shaft, 500 for a long heavy one
[AE-7, from memory]."""

MOST = 0.5 * pi - 1e-6
"""Where no joint goes; what a shaft that stands still may bend to, by this rule."""


def bend_limit(speed: float, limit: float = INERTIA) -> float:
    """Bend (rad) at which one joint shakes with `limit` (rad/s2) at a speed (rad/s), exactly.

    Where `sim.cardan.greatest_acceleration` times speed^2 is the limit.
    """
    require_not_negative(SpeedError, speed=speed)
    require_positive(SpeedError, limit=limit)
    if speed * speed * float(greatest_acceleration(MOST)) <= limit:
        return MOST
    # The optimisers are slow to start, and most that import this ask nothing of them.
    from scipy.optimize import brentq  # noqa: PLC0415

    wanted = limit / speed**2
    return float(brentq(lambda b: float(greatest_acceleration(b)) - wanted, 1e-12, MOST))


def speed_limit(bend: float, limit: float = INERTIA) -> float:
    """Speed (rad/s) at which one joint at a bend (rad) shakes with `limit` (rad/s2)."""
    require_bend(SpeedError, bend=bend)
    require_positive(SpeedError, limit=limit)
    share = float(greatest_acceleration(bend))
    return sqrt(limit / share) if share > 0.0 else float("inf")
