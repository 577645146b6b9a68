"""The visits of a truck held side by side, and the rig file against the last of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

import numpy as np

from geometry.errors import BindpointError
from sim.accuracy.read_off import read_off
from sim.accuracy.source import Source
from sim.bars.give_or_take import give_or_take
from sim.derive import ride_height_of
from sim.frames import FloatArray
from sim.remark import Remark
from sim.rig import Rig, changed
from sim.rig.ends import RideHeight
from sim.rig.measured_with import MeasuredWith
from sim.rig.visits import State, Visit
from sim.visits.looks import LooksLike, looks_like
from sim.visits.moved import Known, Moved, Reading, moved_between


@dataclass(frozen=True)
class Between:
    """Two visits in one state.

    Attributes
    ----------
    state : in which.
    was, now : numbers of the visits in the file, from 1, the earlier first.
    days : from the one to the other.
    moves : every number read at both.
    looks : what those that moved look like.
    """

    state: State
    was: int
    now: int
    days: int
    moves: tuple[Moved, ...]
    looks: tuple[LooksLike, ...]


@dataclass(frozen=True)
class AgainstRig:
    """The rig's own ride height against the last visit at ride height.

    Attributes
    ----------
    visit : its number in the file.
    moves : every number that both have; `was` is the rig's.
    lower : mm by which the pinion joint sits less far below the output now, which is how far the
        springs have settled; None where the visit does not tell, or it did not move.
    put_in : keys of the rig and what the visit has for them, where something moved; none where the
        rig has its places by coordinates, or could not be with them.
    """

    visit: int
    moves: tuple[Moved, ...]
    lower: float | None
    put_in: Mapping[str, str]

    @property
    def moved(self) -> bool:
        """Whether anything did."""
        return any(each.move == "moved" for each in self.moves)


@dataclass(frozen=True)
class Visits:
    """All that the visits of a rig tell.

    Attributes
    ----------
    between : in every state the last visit against the one before, and against the first.
    rig : the rig against the last visit at ride height; None where there is none.
    doubts : what is odd about the visits.
    """

    between: tuple[Between, ...] = ()
    rig: AgainstRig | None = None
    doubts: tuple[Remark, ...] = ()


def visits_of(rig: Rig, today: date, sources: Sequence[Source] = ()) -> Visits:
    """What the visits of a rig tell.

    today : after which no visit can have been.
    sources : what may be off of the rig.
    """
    if not rig.visits:
        return Visits()
    by_state: dict[State, list[int]] = {}
    for number, visit in enumerate(rig.visits, start=1):
        by_state.setdefault(visit.state, []).append(number)
    for numbers in by_state.values():
        numbers.sort(key=lambda number: rig.visits[number - 1].when)
    pairs = [
        (state, first, numbers[-1])
        for state, numbers in by_state.items()
        for first in dict.fromkeys(numbers[-2:-1] + numbers[:1])
        if first != numbers[-1]
    ]
    between = tuple(_between(rig, *pair) for pair in pairs)
    ride = by_state.get("ride")
    against = None if ride is None else _against(rig, ride[-1], sources)
    return Visits(between, against, tuple(_doubts(rig.visits, pairs, today)))


def _between(rig: Rig, state: State, was: int, now: int) -> Between:
    first, last = rig.visits[was - 1], rig.visits[now - 1]
    said = rig.measured_with
    moves = moved_between(known(first, said), known(last, said))
    days = (date.fromisoformat(last.when) - date.fromisoformat(first.when)).days
    return Between(state, was, now, days, moves, looks_like(state, moves))


def known(visit: Visit, said: MeasuredWith | None = None) -> dict[Reading, Known]:
    """The numbers of a visit. said : with what the rig was measured, where it does not say."""
    told: dict[Reading, Known] = {}
    numbers: tuple[tuple[Reading, tuple[str, ...], float | None], ...] = (
        ("frame_to_axle", ("frame_to_axle",), None),
        ("length", ("length",), None),
        ("shaft_down", type(visit).shaft_down.keys, visit.shaft_down),
        ("pinion_up", type(visit).pinion_up.keys, visit.pinion_up),
        ("output_down", type(visit).output_down.keys, visit.output_down),
        ("slip_shows", ("slip_shows",), None),
    )
    for reading, keys, value in numbers:
        typed = next((each for key in keys if (each := getattr(visit, key)) is not None), None)
        if typed is not None:
            number = typed.mm if value is None else value
            told[reading] = Known(number, read_off(typed, visit.tool, said))
    return told


_OF_RIDE: Final[tuple[Reading, ...]] = ("length", "shaft_down", "pinion_up", "output_down")
"""What a rig tells of ride height too."""


def _ride(rig: Rig) -> FloatArray:
    ride = ride_height_of(rig)
    output = ride.output_points
    down = float(np.arctan2(-output[2], abs(output[0])))
    return np.array([ride.length, ride.down, ride.pinion_up, down])


def _against(rig: Rig, number: int, sources: Sequence[Source]) -> AgainstRig:
    visit = rig.visits[number - 1]
    values, offs = _ride(rig), give_or_take(rig, sources, _ride)
    mine: dict[Reading, Known] = {
        reading: Known(float(value), float(off))
        for reading, value, off in zip(_OF_RIDE, values, offs, strict=True)
    }
    now = known(visit, rig.measured_with)
    moves = moved_between(mine, now)
    moved = any(each.move == "moved" for each in moves)
    return AgainstRig(number, moves, _lower(moves), _put_in(rig, visit) if moved else {})


def _lower(moves: Sequence[Moved]) -> float | None:
    """How much less (mm) the pinion sits below the output by length and slope of the shaft."""
    found = {each.reading: each for each in moves}
    if "length" not in found or "shaft_down" not in found or found["shaft_down"].move != "moved":
        return None
    length, slope = found["length"], found["shaft_down"]
    return float(length.was * np.sin(slope.was) - length.now * np.sin(slope.now))


def _put_in(rig: Rig, visit: Visit) -> dict[str, str]:
    """What the visit has for keys that the rig has typed, as typed there."""
    told = dict(_offers(rig, visit))
    try:
        changed(rig, told)
    except BindpointError:
        return {}
    return told


def _offers(rig: Rig, visit: Visit) -> Iterator[tuple[str, str]]:
    ride = rig.ride_height
    if ride is None or rig.output.joint is not None:
        return  # places are not read off a length and slopes
    if visit.length is not None and ride.length is not None:
        yield "ride_height.length", visit.length.typed
    if ride.down is not None:
        yield from _slope(visit, "shaft_points", "ride_height.shaft_points")
    elif ride.lower is not None and visit.shaft_down is not None and visit.length is not None:
        lower = visit.length.mm * float(np.sin(visit.shaft_down))
        yield from RideHeight.lower.typed(lower, "ride_height.").items()
    yield from _slope(visit, "pinion_points", "axle.points")
    yield from _slope(visit, "output_points", "output.points")


def _slope(visit: Visit, name: str, key: str) -> Iterator[tuple[str, str]]:
    for way in ("up", "down"):
        angle = getattr(visit, f"{name}_{way}")
        if angle is not None:
            yield f"{key}_{way}", angle.typed


def _doubts(
    visits: Sequence[Visit], pairs: Sequence[tuple[State, int, int]], today: date
) -> Iterator[Remark]:
    for number, visit in enumerate(visits, start=1):
        if date.fromisoformat(visit.when) > today:
            yield Remark("visit-to-come", f"visits[{number}].when", when=visit.when)
        for other, earlier in enumerate(visits[: number - 1], start=1):
            if (earlier.when, earlier.state) == (visit.when, visit.state):
                yield Remark(
                    "visited-twice",
                    f"visits[{number}].when",
                    state=visit.state,
                    when=visit.when,
                    first=other,
                    second=number,
                )
    for state, was, now in pairs:
        tools = [visits[number - 1].tool for number in (was, now)]
        if None not in tools and tools[0] != tools[1]:
            yield Remark(
                "other-tool", f"visits[{now}].tool", state=state, was=tools[0], now=tools[1]
            )
