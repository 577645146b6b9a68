"""Links that cannot be, sets that do not hold the axle, and travel out of their reach."""

from collections.abc import Iterator
from itertools import combinations
from math import dist

import numpy as np

from geometry.errors import BindpointError
from sim.rig.fields import millimetres
from sim.rig.problems import Problem, as_typed
from sim.rig.suspension import LinksTable, SuspensionTable
from sim.rig.suspension.links import LinkTable
from sim.rig.travel import Travel

SAME: float = 1.0
"""mm. Two links whose ends lie closer than this are one link given twice."""


def links_can_be(suspension: SuspensionTable, travel: Travel) -> Iterator[Problem]:
    """The members must be sound, different, hold the axle, and reach the whole travel."""
    if not isinstance(suspension, LinksTable):
        return
    before = [*_twins(suspension), *_swapped(suspension)]
    yield from before
    if before:
        return
    try:
        mechanism = suspension.mechanism()
    except BindpointError as fault:
        count = f"{len(suspension.tables)} members"
        yield Problem("suspension", count, "a set that holds the axle", str(fault))
        return
    for key, sense in (("bump", 1.0), ("droop", -1.0)):
        reach = getattr(travel, key)
        heights = sense * np.linspace(0.0, reach.mm, 33)
        rolls = np.array([0.0, travel.roll.rad, -travel.roll.rad])
        places = mechanism.poses(heights[:, None], rolls, 0.0).p_C_A
        reached = np.isfinite(places).all(axis=(-1, -2))
        if not reached.all():
            last = float(np.abs(heights[reached]).max()) if reached.any() else 0.0
            yield Problem(
                f"travel.{key}",
                as_typed(reach.typed),
                f"at most about {last / 25.4:.1f} in with this roll, or other links",
                "out of the links' reach",
            )


def _twins(suspension: LinksTable) -> Iterator[Problem]:
    links = [(key, table) for key, table in suspension.tables if isinstance(table, LinkTable)]
    for (_, one), (key, other) in combinations(links, 2):
        ends = (
            (millimetres(one.chassis), millimetres(other.chassis)),
            (millimetres(one.axle), millimetres(other.axle)),
        )
        if all(dist(a, b) < SAME for a, b in ends):
            yield Problem(
                key, as_typed(other.name), f"another place than {one.name}", "given twice"
            )


def _swapped(suspension: LinksTable) -> Iterator[Problem]:
    """A link's axle end lies nearer to the axle than its chassis end does, seen from the side."""
    for key, table in suspension.tables:
        if key == "suspension.track_bar" or not isinstance(table, LinkTable):
            continue
        axle, chassis = abs(table.axle[0].mm), abs(table.chassis[0].mm)
        if axle > chassis:
            yield Problem(
                f"{key}.axle",
                f"{table.axle[0]} forward of the axle, chassis {table.chassis[0]}",
                "the axle end nearer to the axle than the chassis end",
                "ends swapped",
            )
