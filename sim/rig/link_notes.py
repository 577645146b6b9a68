"""What is odd about links but possible: axles held weakly, bushes that give much."""

from collections.abc import Iterator
from math import hypot
from typing import Literal

import numpy as np

from geometry.errors import BindpointError
from sim.rig.limits import LIMITS
from sim.rig.suspension import LinksTable
from sim.rig.suspension.members import LinkTable
from sim.rig.travel import Travel
from sim.units import format_angle, format_length

LinkCode = Literal["end_away", "loosely_held", "much_give"]


def link_notes(
    suspension: LinksTable, travel: Travel | None
) -> Iterator[tuple[LinkCode, str, str]]:
    """Code, key path and line of everything odd about a set of links that is sound."""
    for key, table in suspension.tables:
        if isinstance(table, LinkTable):
            forward, _, up = table.axle
            if hypot(forward.mm, up.mm) > LIMITS.seat_away:
                yield (
                    "end_away",
                    f"{key}.axle",
                    f"the axle end of {table.name} lies more than "
                    f"{format_length(LIMITS.seat_away)} from the axle's middle line",
                )
    try:
        mechanism = suspension.mechanism()
    except BindpointError:  # of an unfinished rig; told as a problem
        return
    for loose in mechanism.held:
        if loose.hold < LIMITS.weak_hold:
            yield (
                "loosely_held",
                "suspension",
                f"the links hold the axle only weakly against {loose.says}: moving it 1 mm "
                f"stretches them by {loose.hold:.2f} mm; usual is {loose.help}",
            )
    if travel is not None and mechanism.binds:
        at = sorted({(height, roll) for height, roll, _ in travel.region(0, 0).corners().tolist()})
        give = mechanism.give(np.array([t for t, _ in at]), np.array([r for _, r in at]))
        most = np.nan_to_num(give.most)
        worst = int(most.argmax())
        if most[worst] > LIMITS.much_give:
            height, roll = at[worst]
            bush = give.bushes[int(np.nan_to_num(give.mm[:, worst]).argmax())]
            yield (
                "much_give",
                "suspension",
                f"the links bind: {bush} has to give {format_length(float(most[worst]))} at "
                f"{format_length(abs(height))} of {'bump' if height > 0.0 else 'droop'}"
                + (f" and {format_angle(abs(roll))} of roll" if roll else "")
                + "; look for ends that bottom in their bushes",
            )
