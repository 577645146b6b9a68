"""What is odd about links but possible: axles held weakly, bushes that give much."""

from collections.abc import Iterator
from math import hypot

import numpy as np

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.rig.limits import LIMITS
from sim.rig.suspension import LinksTable
from sim.rig.suspension.members import LinkTable
from sim.rig.travel import Travel


def link_notes(suspension: LinksTable, travel: Travel | None) -> Iterator[Remark]:
    """Everything odd about a set of links that is sound."""
    for key, table in suspension.tables:
        if isinstance(table, LinkTable):
            forward, _, up = table.axle
            if hypot(forward.mm, up.mm) > LIMITS.seat_away:
                yield Remark("end_away", f"{key}.axle", name=table.name, most=LIMITS.seat_away)
    try:
        mechanism = suspension.mechanism()
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    for loose in mechanism.held:
        if loose.hold < LIMITS.weak_hold:
            yield Remark(
                "loosely_held", "suspension", motion=loose.says, hold=loose.hold, help=loose.help
            )
    if travel is not None and mechanism.binds:
        at = sorted({(height, roll) for height, roll, _ in travel.region(0, 0).corners().tolist()})
        give = mechanism.give(np.array([t for t, _ in at]), np.array([r for _, r in at]))
        most = np.nan_to_num(give.most)
        worst = int(most.argmax())
        if most[worst] > LIMITS.much_give:
            height, roll = at[worst]
            bush = give.bushes[int(np.nan_to_num(give.mm[:, worst]).argmax())]
            yield Remark(
                "much_give",
                "suspension",
                bush=bush,
                gives=float(most[worst]),
                travel=height,
                roll=roll,
            )
