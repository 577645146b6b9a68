"""Where a cap's own directions lie on the cross, to draw what was computed in its place."""

import numpy as np

from sim.cocked.joint import CrossAt
from sim.frames import FloatArray, read_only
from sim.seen.words import CapName, caps_of


def cap_axes(at: CrossAt, cap: CapName) -> FloatArray:
    """Directions e, d and a of a cap (see `sim.cocked.balance`), (3, 3) rows in the cross frame X.

    Cap a lies on +x of X in the driving yoke and on +y in the driven one, whose shafts lie along
    +z and -z away from the cross where the joint is straight (`geometry.joint`). Going forward, a
    shaft turns counterclockwise seen from behind the vehicle, looking forward: common practice, no
    source, and the other way where the engine is turned round. What drives pushes its trunnions
    along, and they press back on its caps; in the driven yoke they press on along. Together the
    three need not be right-handed.
    """
    driving = cap in caps_of(at.drives)
    e = np.array([1.0, 0.0, 0.0] if driving else [0.0, 1.0, 0.0])
    if cap.endswith("_b"):
        e = -e
    to_engine = np.array([0.0, 0.0, 1.0])
    # Seen from behind, counterclockwise is about the way rearward: from the engine to a rear axle.
    along = np.cross(to_engine if at.front else -to_engine, e)
    d, a = (-along, to_engine) if driving else (along, -to_engine)
    return read_only(np.stack([e, d, a]))
