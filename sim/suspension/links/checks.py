"""Links that cannot be or are odd: sets that hold an axle badly, travel out of their reach."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations
from math import dist, hypot, inf, isfinite
from typing import TYPE_CHECKING, Final

import numpy as np

from geometry.errors import BindpointError
from sim.remark import Remark
from sim.suspension.links.member_tables import LinkTable, MemberTable
from sim.suspension.links.members import Member
from sim.suspension.links.motion import Links
from sim.suspension.reach import reach
from sim.table.limits import LIMITS
from sim.table.problems import Problem, as_typed

if TYPE_CHECKING:
    from sim.travel.table import Travel

SAME: Final = 1.0
"""mm. Two members whose points lie closer than this are one member given twice."""


Tables = Sequence[tuple[str, MemberTable]]
"""Every member with its key path."""


def impossible(
    tables: Tables, mechanism_of: Callable[[], Links], travel: Travel
) -> Iterator[Problem]:
    """The members must be sound, different, hold the axle, and reach the whole travel."""
    before = [*_members(tables), *_swapped(tables)]
    yield from before
    if before:
        return
    try:
        mechanism = mechanism_of()
    except BindpointError as fault:
        members = sum(2 if table.mirrored else 1 for _, table in tables)
        yield Problem(
            "suspension",
            f"a set of {members}",
            Remark("set-that-holds"),
            str(fault).removeprefix("links: "),
        )
        return
    yield from _reach(mechanism, travel)


def _members(tables: Tables) -> Iterator[Problem]:
    """Each member by itself, then all of them, mirror images too, against one another."""
    built: list[tuple[str, MemberTable, Member]] = []
    for key, table in tables:
        try:
            made = list(table.members())
        except BindpointError as fault:
            says = str(fault).removeprefix(f"{table.name}: ")
            yield Problem(key, as_typed(table.name), Remark("sound-member"), says)
            continue
        if len(made) > 1 and _alike(*made):
            yield Problem(
                f"{key}.mirrored",
                "true",
                Remark("no-mirror"),
                Remark("mirror-is-itself"),
            )
            continue
        built += [(key, table, each) for each in made]
    for (_, one, a), (key, other, b) in combinations(built, 2):
        if one is other:
            continue
        if a.name == b.name:
            yield Problem(
                f"{key}.name", as_typed(other.name), Remark("own-name"), Remark("given-before")
            )
        elif _alike(a, b):
            yield Problem(
                key, as_typed(other.name), Remark("other-place", name=a.name), Remark("given-twice")
            )


def _alike(one: Member, other: Member) -> bool:
    """Whether two members lie on one another, whichever way round they are given."""
    if type(one) is not type(other) or len(one.points) != len(other.points):
        return False
    left = list(other.points)
    for point in one.points:
        near = [place for place, each in enumerate(left) if dist(point, each) < SAME]
        if not near:
            return False
        del left[near[0]]
    return True


def _swapped(tables: Tables) -> Iterator[Problem]:
    """A link's axle end lies nearer to the axle's middle line than its chassis end does."""
    for key, table in tables:
        if not isinstance(table, LinkTable):
            continue
        axle, chassis = (hypot(end[0].mm, end[2].mm) for end in (table.axle, table.chassis))
        if axle > chassis + LIMITS.swapped:
            yield Problem(
                f"{key}.axle",
                as_typed(table.axle),
                Remark("ends-swapped", name=table.name),
                Remark("axle-end-farther", axle=axle, chassis=chassis),
            )


def _reach(mechanism: Links, travel: Travel) -> Iterator[Problem]:
    """The whole travel must be in reach as far as the lengths of the links go.

    Poses that ask too much of the bushes are told with the result instead, since what a bush can
    give is seldom known.
    """
    corners = travel.region(0.0, 0.0).corners()
    for key, sense in (("bump", 1.0), ("droop", -1.0)):
        typed = getattr(travel, key)
        here = np.vstack([[sense * typed.mm, 0.0, 0.0], corners[sense * corners[:, 0] > 0.0]])
        closed = mechanism.closes(here[:, 0], here[:, 1]).tolist()
        if all(closed):
            continue
        willing = replace(mechanism, most_give=1e6)
        most = inf
        for height, roll in here[~np.array(closed), :2].tolist():
            end = reach(willing, roll)
            # With less travel the corner of the region comes as much nearer to ride height.
            short = 0.0 if end is None else abs(height) - abs(getattr(end, _END[key]))
            most = min(most, 0.0 if end is None else max(0.0, typed.mm - short))
        most = most if isfinite(most) else 0.0
        yield Problem(
            f"travel.{key}",
            as_typed(typed.typed),
            Remark("less-travel-or-links", most=most),
            Remark("out-of-links", rolled=bool(closed[0])),
        )


_END: Final = {"bump": "high", "droop": "low"}


def link_notes(
    tables: Tables,
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
