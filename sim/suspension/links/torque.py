"""How far an axle on links turns in its bushes under torque."""

from dataclasses import dataclass
from math import inf, isnan

import numpy as np
from numpy.typing import ArrayLike

from sim.frames import FloatArray, locked
from sim.suspension.base import SuspensionError
from sim.suspension.links.closure import Closed
from sim.suspension.links.give import Give
from sim.suspension.links.motion import Links
from sim.suspension.links.place import LEVER


@dataclass(frozen=True, eq=False)
class TorqueGive:
    """What torque does to the housing against the same pose without torque; nan out of reach."""

    wrap: FloatArray
    """(...) turn about the housing's own axis, rad, nose up positive."""
    shift: FloatArray
    """(..., 3) move of the housing centre in C, mm; its height is imposed."""
    yaw: FloatArray
    """(...) turn seen from above, rad, left positive."""
    give: Give
    """What each bush gives, with the torque."""
    centre: FloatArray
    """(...) how far above the housing centre the point lies that stays put fore-aft, mm: the
    wrap centre to state for this torque. Nan where nothing turns."""


def under_torque(
    links: Links,
    torque: float,
    tyre_radius: float = inf,
    travel: ArrayLike = 0.0,
    roll: ArrayLike = 0.0,
) -> TorqueGive:
    """Balance the bushes against the torque (N mm) that the axle's wheels put on the ground.

    Positive drives forward: the housing is turned the other way than the wheels and pushed
    forward at its centre by torque / tyre_radius (mm); an infinite radius leaves the push out.
    Braking and reversing are negative. Torque that brakes on the same axle hold back does not
    reach the ground and turns nothing. Travel (mm) and roll (rad) are imposed [derivation].
    """
    if isnan(torque) or not tyre_radius > 0.0:
        raise SuspensionError(
            f"links torque: got {torque} N mm at a tire radius of {tyre_radius} mm, expected "
            "numbers, the radius above zero"
        )
    t, r = np.broadcast_arrays(np.asarray(travel, np.float64), np.asarray(roll, np.float64))
    flat_t, flat_r = t.reshape(-1), r.reshape(-1)
    without = links.solved(flat_t, flat_r)
    force = np.zeros_like(without)
    force[0] = torque / tyre_radius
    force[2] = -torque / LEVER
    force[3] = -torque * np.sin(flat_r) / LEVER  # the torque's axis rolls with the axle
    found = links.closure.balance(
        without, flat_t, flat_r, force / float(links.rows.stiffness.max())
    )
    return _told(links, without, found, flat_t, flat_r, t.shape)


def _told(
    links: Links,
    without: FloatArray,
    found: Closed,
    travel: FloatArray,
    roll: FloatArray,
    shape: tuple[int, ...],
) -> TorqueGive:
    q = np.where(found.closed, found.q, np.nan)
    moved = (q - without).reshape(len(q), *shape)
    e, _ = links.rows(q, travel, roll)
    pitch = moved[2] / LEVER
    turns = pitch != 0.0
    return TorqueGive(
        wrap=locked(links.nose_up_sense * pitch),
        shift=locked(np.stack([moved[0], moved[1], np.zeros(shape)], axis=-1)),
        yaw=locked(moved[3] / LEVER),
        give=links.shares.give(e.reshape(-1, *shape)),
        centre=locked(np.where(turns, -moved[0] / np.where(turns, pitch, 1.0), np.nan)),
    )
