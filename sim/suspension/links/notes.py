"""What is odd about links but possible: axles held weakly, bushes that give much."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import hypot
from typing import TYPE_CHECKING

import numpy as np

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.suspension.links.member_tables import LinkTable, MemberTable
from sim.suspension.links.motion import Links
from sim.table.limits import LIMITS

if TYPE_CHECKING:
    from sim.travel.table import Travel


def link_notes(
    tables: Sequence[tuple[str, MemberTable]],
    mechanism_of: Callable[[], Links],
    travel: Travel | None,
) -> Iterator[Remark]:
    """Everything odd about a set of links that is sound."""
    for key, table in tables:
        if isinstance(table, LinkTable):
            forward, _, up = table.axle
            if hypot(forward.mm, up.mm) > LIMITS.seat_away:
                yield Remark("end_away", f"{key}.axle", name=table.name, most=LIMITS.seat_away)
    try:
        mechanism = mechanism_of()
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
