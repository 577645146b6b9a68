"""Axle wrap that cannot be told, or that no axle has."""

from collections.abc import Iterator
from math import degrees, radians
from typing import Final

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.rig.ends import Axle
from sim.suspension import SuspensionTable
from sim.table.problems import Problem, as_typed
from sim.travel.table import Travel
from sim.wrap import WrapTable, axle_wrap

MOST: Final = radians(45.0)
"""rad. Wrap is under that in the rig file, also where it is worked out."""


def wrap_can_be(
    wrap: WrapTable | None, suspension: SuspensionTable, travel: Travel, axle: Axle
) -> Iterator[Problem]:
    """What the wrap rests on must be there and give degrees that an axle can have."""
    if wrap is None:
        return
    before = list(wrap.missing(suspension))
    yield from before
    if before:
        return
    came = as_typed(wrap.kind)
    try:
        found = axle_wrap(wrap, suspension, travel, axle.front)
    except BindpointError as fault:
        yield Problem("wrap", came, Remark("sound-wrap"), str(fault))
        return
    most = max(found.nose_up.high, found.nose_down.high)
    if most >= MOST:
        yield Problem(
            "wrap",
            came,
            Remark("less-wrap", most=MOST),
            Remark("wrap-made", most=degrees(most)),
        )
