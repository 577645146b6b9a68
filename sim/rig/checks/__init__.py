"""Impossible sets: values that are sound each by itself and contradict one another.

One file a subject. A check is a function from the sections that it looks at, by their names as
its parameters, to problems; it runs when all of those sections are sound by themselves.
"""

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from inspect import signature
from typing import Any, Final

from sim.rig.checks.bench import bench_can_be, middle_bench_can_be
from sim.rig.checks.carrier import (
    carrier_can_be,
    no_head_ahead_of_the_bearing,
    slip_is_behind_the_bearing,
)
from sim.rig.checks.catalogue import (
    heads_can_be,
    middle_is_in_the_catalogue,
    parts_are_in_the_catalogue,
    slip_fits_its_yoke,
)
from sim.rig.checks.ride import joints_are_placed, joints_can_be, ride_height_agrees, shaft_can_be
from sim.rig.checks.room import yokes_have_room
from sim.rig.checks.seen_on_truck import seen_can_be
from sim.rig.checks.tape import tape_can_be
from sim.rig.checks.wrap import wrap_can_be
from sim.rig.ride import ride_of
from sim.table.problems import Problem

Check = Callable[..., Iterator[Problem]]

CHECKS: Final[tuple[Check, ...]] = (
    joints_are_placed,
    shaft_can_be,
    ride_height_agrees,
    joints_can_be,
    lambda suspension, ride: suspension.against_ride(ride),
    lambda suspension, travel: suspension.against_travel(travel),
    parts_are_in_the_catalogue,
    slip_fits_its_yoke,
    middle_is_in_the_catalogue,
    heads_can_be,
    bench_can_be,
    middle_bench_can_be,
    carrier_can_be,
    slip_is_behind_the_bearing,
    no_head_ahead_of_the_bearing,
    yokes_have_room,
    wrap_can_be,
    tape_can_be,
    seen_can_be,
)

_PLACES: Final = ("output", "axle", "ride_height", "carrier")
"""Sections that place the joints at ride height: the `ride` that a check may ask for, None where
they do not."""

OPTIONAL: Final = frozenset({"ride_height", "carrier", "wrap", "drive"})
"""Sections that a file may leave out; a check gets None for them."""


@cache
def _asks(check: Check) -> tuple[str, ...]:
    """The sections that a check asks for."""
    return tuple(signature(check).parameters)


def impossible(sections: Mapping[str, Any], bad: frozenset[str]) -> list[Problem]:
    """Every contradiction among the sound sections; `bad` names those that are not sound."""
    known = {**dict.fromkeys(OPTIONAL - bad), **sections}
    placed = [known[name] for name in _PLACES if name in known]
    if len(placed) == len(_PLACES):
        known["ride"] = ride_of(*placed)
    problems: list[Problem] = []
    for check in CHECKS:
        names = _asks(check)
        if known.keys() >= set(names):
            problems += check(**{name: known[name] for name in names})
    return problems
