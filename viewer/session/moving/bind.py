"""Drives made of an answer: each goes to where one finding stops the shaft, and on to its worst.

From ride height down or up, crossed up, then wrapped, until what the finding is about first
happens on that way; there it stops, by the same limits as the answer. What does not happen at all
is driven to where it comes nearest.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import pairwise
from math import isfinite, pi, tau
from typing import Final

import numpy as np

from geometry.seeking import edge
from sim.check import Check
from sim.findings import Finding
from sim.frames import FloatArray
from sim.line import line, still_spin, turn
from sim.search.first_past import first_on_path
from sim.search.worst import PoseFunction
from sim.tolerances import TOL
from sim.vehicle import RIDE, Joint, Pose, TravelRegion, Vehicle
from viewer.session.charts.turn_strip import StripWork, left_at
from viewer.session.moving.drives import LEAD, TURNS_A_SECOND, Course, Drive
from viewer.session.moving.legs import (
    Leg,
    between,
    by_height_first,
    even,
    pose_on,
    poses_between,
    slowing,
    smooth,
    turned_on,
)
from viewer.words.drives import drive_name, ended_words, stopped_words
from viewer.words.findings import finding_lines

HEIGHT_TIME, AXLE_TIME, PUSH_TIME = 3.0, 1.8, 2.5
"""s for the height, for crossing up and for wrap each, and for all that comes after the stop."""

ARRIVING = 1.6
"""Times as long for the leg that arrives."""

LEAST, MOST = 6.0, 9.0
"""s that a drive lasts at least, and that its way to the stop takes at most."""

SPINS = 360
"""Turns that are looked at for the tightest one."""


PIECES = 8
"""Parts of a drive of the road in which it goes without a kink, as good as."""

Path = Callable[[FloatArray], FloatArray]
"""Poses (..., 3) at places (...): travel mm, roll and wrap rad."""


@dataclass(frozen=True, eq=False)
class BindDrive(Drive):
    """The drive to one finding of an answer."""

    check: Check
    finding: Finding

    @property
    def name(self) -> str:  # type: ignore[override]
        """What it is called."""
        return drive_name(self.finding)

    @property
    def says(self) -> str:  # type: ignore[override]
        """What is found there."""
        return ", ".join(finding_lines(self.finding))

    def stopped_says(self) -> str:
        """What meets where it stops, or what is left."""
        return stopped_words(self.finding, self.stop)

    def ended_says(self) -> str:
        """How far past that the worst is."""
        return ended_words(self.finding, self.end) if self.after else self.stopped_says()

    @property
    def shows(self) -> bool:
        """Whether there is something to see on the way, rather than only something to read."""
        return self.finding.code not in _ONLY_READ

    @property
    def joint(self) -> Joint | None:
        """The joint it is about, if it is one."""
        named = self.finding.detail.get("joint", self.finding.subject)
        return next((joint for joint in self.check.joints if joint == named), None)

    @cached_property
    def _way(self) -> tuple[list[Pose], list[Pose]]:
        """Poses from ride height to the stop, and from there to the worst."""
        finding = self.finding
        worst = finding.at or RIDE
        poses = by_height_first(finding.detail.get("first") or worst)
        if finding.code == "surroundings" and finding.verdict == "touches":
            worst = self._farther(worst)
        poses = [*poses, worst]
        stop = self._first_on(poses) if finding.verdict == "touches" else None
        if stop is None:
            return _apart(poses), [worst]
        leg = min(int(stop), len(poses) - 2)
        at = between(poses[leg], poses[leg + 1], stop - leg)
        before, after = [*poses[: leg + 1], at], [at, *poses[leg + 1 :]]
        if finding.code == "out-of-reach":
            after = [at]
        return _apart(before), _apart(after)

    @property
    def before(self) -> list[Pose]:
        """Poses from ride height to the stop, straight from each to the next."""
        return self._way[0]

    @property
    def after(self) -> list[Pose]:
        """Poses from the stop on to the worst; none where the stop is the worst."""
        return self._way[1] if len(self._way[1]) > 1 else []

    @property
    def stop(self) -> Pose:
        """Where it stops: the first contact on the way, or the worst of what never touches."""
        return self.before[-1]

    @property
    def end(self) -> Pose:
        """Where it ends when it is pushed on."""
        return (self.after or self.before)[-1]

    def _farther(self, at: Pose) -> Pose:
        """The end of the travel on the way from ride height through a pose: nothing says more.

        What touches a thing there touches it deeper as a rule; how deep nobody asks.
        """
        if at == RIDE:
            return at
        inside = self.check.found.vehicle.travel.contains

        def there(share: float) -> bool:
            pose = between(RIDE, at, share)
            return bool(inside(pose.travel, pose.roll, pose.wrap))

        far = 2.0
        while there(far):
            far *= 2.0
        return between(RIDE, at, edge(there, 1.0, far, 1e-6)[0])

    def _first_on(self, poses: list[Pose]) -> float | None:
        """Place on the way, counted in its legs, at which it first happens; None if never."""
        legs = list(pairwise(poses))
        if self.finding.code == "turns-at-ride":
            return 0.0
        if self.finding.code == "surroundings":
            for number, ends in enumerate(legs):
                place = self._first_hit(partial(poses_between, *ends), 1.0)
                if place is not None:
                    return number + place
            return None
        found = self._first_past(partial(_on, legs), float(len(legs)))
        if found is not None and self.finding.code == "out-of-reach":
            return max(0.0, found - 2.0 * TOL.contact_travel)  # the last that is within reach
        return found

    def _first_past(self, path: Path, end: float) -> float | None:
        """First place on a path at which the limit is passed; None if never."""
        make = _PAST.get(self.finding.code)
        if make is None:
            return None
        past = make(self.check, self.finding)
        return first_on_path(lambda place: past(*np.moveaxis(path(place), -1, 0)), end)

    def _first_hit(self, path: Path, end: float) -> float | None:
        """The same of a thing near the shaft."""
        return self.check.found.neighbours.first_on(self.finding.subject, path, end)

    def happens_on(self, path: Path) -> bool:
        """Whether it happens on another path, from place 0 to 1, that begins at ride height."""
        if self.finding.code == "surroundings":
            parts = (partial(_part, path, number) for number in range(PIECES))
            return any(self._first_hit(part, 1.0) is not None for part in parts)
        if self.finding.code not in _PAST:
            return True
        return self._first_past(path, 1.0) is not None

    # How it is played

    @cached_property
    def _timed(self) -> tuple[list[Leg], list[Leg]]:
        """The legs to the stop and those after it."""
        after = [
            Leg(start, end, PUSH_TIME / len(pairs), smooth)
            for pairs in [list(pairwise(self.after))]
            for start, end in pairs
        ]
        least = LEAST - (PUSH_TIME if after else 0.0)
        ways = list(pairwise(self.before)) or [(RIDE, RIDE)]
        times = [HEIGHT_TIME if start.travel != end.travel else AXLE_TIME for start, end in ways]
        times[-1] *= ARRIVING
        scale = min(max(sum(times), least), MOST) / sum(times)
        eases = [smooth] * (len(ways) - 1) + [slowing]
        before = [
            Leg(*way, scale * time, ease)
            for way, time, ease in zip(ways, times, eases, strict=True)
        ]
        return before, after

    @cached_property
    def _turns(self) -> tuple[float, float] | None:
        """Turn of the yoke (rad) where it stops and where it ends; None where none matters."""
        if self.joint is None:
            return None
        first = self._free_turn[1] if self._only_turns else self._tightest(self.stop)
        return first, self._tightest(self.end, near=first) if self.after else first

    @property
    def _only_turns(self) -> bool:
        """Whether metal meets at ride height, so that the shaft has to be turned to the stop."""
        meets = self.joint is not None and self.finding.verdict == "touches"
        return meets and len(self.before) == 1

    @cached_property
    def _free_turn(self) -> tuple[float, float]:
        """At ride height the freest turn of the yoke, and that at which it meets next, rad."""
        joint = self.joint or self.check.tightest
        room, vehicle = self.check.joints[joint].room, self.check.found.vehicle

        def left(spin: FloatArray) -> FloatArray:
            return left_at(room, *turn(vehicle, 0.0, 0.0, 0.0, spin).turns[joint]).left

        every = np.linspace(0.0, tau, SPINS, endpoint=False)
        free = float(every[int(np.argmax(left(every)))])
        meets = first_on_path(lambda turned: -left(free + turned), tau)
        return free, free + (meets or 0.0)

    def _tightest(self, at: Pose, near: float | None = None) -> float:
        """The tightest turn in a pose (rad); of those as tight the one nearest to another."""
        joint = self.joint or self.check.tightest
        strip = StripWork(self.check, joint, at, SPINS).strip
        least = strip.tightest
        if near is None:
            return least.spin
        alike = [spot.spin for spot in strip.spots if spot.left <= least.left + _AS_TIGHT]
        return min(alike, key=lambda spin: abs(_shorter(spin - near)))

    def course(self, at: Pose, spin: float, _box: TravelRegion, _front: bool, /) -> Course:
        """From where the axle is to ride height, and from there to the stop and on."""
        before, after = self._timed
        goes_home = at != RIDE or self._only_turns
        legs = [*([Leg(at, RIDE, LEAD, smooth)] if goes_home else []), *before, *after]
        arrives = sum(leg.seconds for leg in legs[: len(legs) - len(after)])
        seconds = arrives + sum(leg.seconds for leg in after)
        still = partial(still_turn, self.check.found.vehicle)

        def turned_to(there: Pose, to: float) -> float:
            """Turn by hand from the beginning to a spin in a pose, but for whole turns, rad."""
            return (to - still(there)) - (spin - still(at))

        stop = end = tau * TURNS_A_SECOND * arrives
        turns = [(arrives, stop, even)]
        if self._only_turns:
            free, meets = self._free_turn
            begin = _shorter(turned_to(RIDE, free))
            stop = end = begin + meets - free
            turns = [(LEAD, begin, even), (arrives - LEAD, stop, slowing)]
        elif self._turns is not None:
            stop = end = stop + _shorter(turned_to(self.stop, self._turns[0]) - stop)
            turns = [(arrives, stop, even)]
        if self._turns is not None and after:
            end += _shorter(turned_to(self.end, self._turns[1]) - stop)
        turns.append((seconds - arrives, end, even))
        return Course(seconds, partial(pose_on, legs), partial(turned_on, turns), arrives)


_ONLY_READ: Final = frozenset({"caster", "hubs", "no-room-for-slip"})
"""Findings that no pose shows."""

_AS_TIGHT: Final = 1e-4
"""rad. Spots of a turn whose room differs by less are as tight; no level shows a tenth of it."""


def still_turn(vehicle: Vehicle, at: Pose) -> float:
    """Spin (rad) of an output yoke that nobody turns, in a pose; 0 where there is none."""
    spin = float(still_spin(vehicle, at.travel, at.roll, at.wrap))
    return spin if isfinite(spin) else 0.0


def _shorter(turn: float) -> float:
    """A turn (rad) as the shorter way there."""
    return (turn + pi) % tau - pi


def _apart(poses: list[Pose]) -> list[Pose]:
    """Poses without those that the next one hardly differs from; the last one stays."""
    apart = [one for one, two in pairwise(poses) if not _alike(one, two)]
    return [*apart, poses[-1]]


def _alike(one: Pose, two: Pose) -> bool:
    turned = max(abs(one.roll - two.roll), abs(one.wrap - two.wrap))
    return abs(one.travel - two.travel) < TRIFLE and turned < TRIFLE / 1000.0


PRESSED: Final = 2e-7
"""rad past contact at which a joint stops, so that rounding does not call it clear at its turn."""

TRIFLE: Final = 0.01
"""mm; nobody sees an axle move by it, nor by as little of an angle a meter away."""


def _part(path: Path, number: int, place: FloatArray) -> FloatArray:
    """Poses at places of one of the parts of a path."""
    return path((number + place) / PIECES)


def _on(legs: list[tuple[Pose, Pose]], place: FloatArray) -> FloatArray:
    """Poses (..., 3) at places (...) counted in legs."""
    number = np.clip(place.astype(np.intp), 0, len(legs) - 1)
    shares = [np.clip(place - i, 0.0, 1.0) for i in range(len(legs))]
    ways = np.stack([poses_between(*leg, each) for leg, each in zip(legs, shares, strict=True)])
    here: FloatArray = np.take_along_axis(ways, number[None, ..., None], axis=0)[0]
    return here


def _joint_past(check: Check, finding: Finding) -> PoseFunction:
    joint = next(each for each in check.joints if each == finding.subject)
    clear = check.joints[joint].clear
    return lambda t, r, w: line(check.found.vehicle, t, r, w).bends[joint] - clear - PRESSED


def _slip_past(sense: float, has: Callable[[Check], float | None]) -> Callable[..., PoseFunction]:
    def past(check: Check, _: Finding) -> PoseFunction:
        stroke = has(check)
        stroke = np.inf if stroke is None else stroke
        return lambda t, r, w: sense * line(check.found.vehicle, t, r, w).slip - stroke

    return past


def _reach_past(check: Check, _: Finding) -> PoseFunction:
    return lambda t, r, w: np.where(line(check.found.vehicle, t, r, w).reachable, -1.0, 1.0)


_PAST: Final[dict[str, Callable[[Check, Finding], PoseFunction]]] = {
    "joint-bend": _joint_past,
    "slip-closes": _slip_past(-1.0, lambda check: check.found.vehicle.slip.closes),
    "slip-opens": _slip_past(1.0, lambda check: check.found.vehicle.slip.opens),
    "slip-comes-apart": _slip_past(1.0, lambda check: check.found.vehicle.slip.comes_apart),
    "out-of-reach": _reach_past,
}
"""How far past its limit each kind of finding is in a pose."""


def bind_drives(check: Check) -> tuple[BindDrive, ...]:
    """The drive to each finding, the worst first."""
    return tuple(BindDrive(check, finding) for finding in check.findings)
