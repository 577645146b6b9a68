"""Drives made of an answer: each goes to where one finding stops the shaft, and on to its worst.

From ride height down or up, crossed up, then wrapped, until what the finding is about first
happens on that way; there it stops, by the same limits as the answer. What does not happen at all
is driven to where it comes nearest.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import pi, tau
from typing import Final

import numpy as np

from sim.around.surroundings import touch_on_path
from sim.check import Check
from sim.findings import Finding
from sim.frames import FloatArray
from sim.line import line, still_spin
from sim.search.first_past import first_on_path
from sim.search.worst import PoseFunction
from sim.tolerances import TOL
from sim.vehicle import RIDE, Joint, Pose, TravelRegion
from viewer.session.charts.turn_strip import Spot, StripWork
from viewer.session.moving.drives import LEAD, TURNS_A_SECOND, Course, Drive
from viewer.session.moving.legs import (
    Leg,
    between,
    by_height_first,
    pose_on,
    poses_between,
    slowing,
    smooth,
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
        if worst != poses[-1]:
            poses.append(worst)
        stop = self._first_on(poses) if finding.verdict == "touches" else None
        if stop is None:
            return poses, [poses[-1]]
        leg = min(int(stop), max(0, len(poses) - 2))
        at = between(poses[leg], poses[leg + 1], stop - leg) if len(poses) > 1 else RIDE
        before, after = [*poses[: leg + 1], at], [at, *poses[leg + 1 :]]
        if finding.code == "out-of-reach":
            after = [at]
        return _distinct(before), _distinct(after)

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

    def _first_on(self, poses: list[Pose]) -> float | None:
        """Place on the way, counted in its legs, at which it first happens; None if never."""
        check, finding = self.check, self.finding
        legs = list(pairwise(poses))
        if finding.code == "turns-at-ride":
            return 0.0
        if finding.code == "surroundings":
            return self._first_touch(legs)
        make = _PAST.get(finding.code)
        if make is None:
            return None
        past = make(check, finding)

        def on_the_way(place: FloatArray) -> FloatArray:
            return past(*np.moveaxis(_on(legs, place), -1, 0))

        found = first_on_path(on_the_way, float(len(legs))) if legs else 0.0
        if found is not None and finding.code == "out-of-reach":
            return max(0.0, found - 2.0 * TOL.contact_travel)  # the last that is within reach
        return found

    def _first_touch(self, legs: list[tuple[Pose, Pose]]) -> float | None:
        found, rig = self.check.found, self.check.rig
        thing = next(each for each in rig.surroundings if each.name == self.finding.subject)
        for number, (start, end) in enumerate(legs or [(RIDE, RIDE)]):

            def path(place: FloatArray, ends: tuple[Pose, Pose] = (start, end)) -> FloatArray:
                return poses_between(*ends, place)

            place = touch_on_path(rig, found.vehicle, found.parts, thing, path, 1.0)
            if place is not None:
                return number + place
        return None

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
        """Turn of the yoke where it stops and where it ends, rad; None where none matters."""
        if self.joint is None or self._turns_only:
            return None
        first = self._tightest(self.stop).spin
        last = self._tightest(self.end, near=first).spin if self.after else first
        return first, last

    @property
    def _turns_only(self) -> bool:
        """Whether nothing but the turn of the shaft brings it to the stop."""
        return len(self.before) == 1

    def _tightest(self, at: Pose, near: float | None = None) -> Spot:
        """The tightest spot of the turn in a pose; of those as tight the one nearest to a turn."""
        joint = self.joint or self.check.tightest
        strip = StripWork(self.check, joint, at, SPINS).strip
        least = strip.tightest
        if near is None:
            return least
        alike = [spot for spot in strip.spots if spot.left <= least.left + _AS_TIGHT]
        return min(alike, key=lambda spot: abs(_turned(near, spot.spin)))

    def course(self, at: Pose, spin: float, _box: TravelRegion, _front: bool, /) -> Course:
        """From where the axle is to ride height, and from there to the stop and on."""
        before, after = self._timed
        lead = [] if at == RIDE else [Leg(at, RIDE, LEAD, smooth)]
        legs = [*lead, *before, *after]
        arrives = sum(leg.seconds for leg in (*lead, *before))
        seconds = arrives + sum(leg.seconds for leg in after)
        steady = tau * TURNS_A_SECOND

        def pose(time: float) -> Pose:
            return pose_on(legs, time)

        def still(time: float) -> float:
            there = pose(time)
            found = still_spin(self.check.found.vehicle, there.travel, there.roll, there.wrap)
            return float(found)

        first = still(0.0)
        begin = spin - first
        stop = begin + steady * arrives
        if self._turns is not None:
            meets = self._turns[0] - still(arrives)
            stop = meets + tau * round((stop - meets) / tau)
        end = stop
        if self._turns is not None and after:
            end = stop + _turned(stop, self._turns[1] - still(seconds))

        def turned(time: float) -> float:
            if time <= arrives:
                now = begin + (stop - begin) * time / arrives
            else:
                now = stop + (end - stop) * (time - arrives) / (seconds - arrives)
            return (now + still(time)) % tau

        return Course(seconds, pose, turned, arrives)


_AS_TIGHT: Final = 1e-4
"""rad. Spots of a turn whose room differs by less are as tight; no level shows a tenth of it."""


def _turned(start: float, to: float) -> float:
    """The shorter way from one turn to another, rad."""
    return (to - start + pi) % tau - pi


def _distinct(poses: list[Pose]) -> list[Pose]:
    return [*poses[:1], *(new for old, new in pairwise(poses) if new != old)]


def _on(legs: list[tuple[Pose, Pose]], place: FloatArray) -> FloatArray:
    """Poses (..., 3) at places (...) counted in legs."""
    number = np.clip(place.astype(np.intp), 0, len(legs) - 1)
    ways = np.stack([poses_between(*leg, place - i) for i, leg in enumerate(legs)])
    here: FloatArray = np.take_along_axis(ways, number[None, ..., None], axis=0)[0]
    return here


def _joint_past(check: Check, finding: Finding) -> PoseFunction:
    joint = next(each for each in check.joints if each == finding.subject)
    clear = check.joints[joint].clear
    return lambda t, r, w: line(check.found.vehicle, t, r, w).bends[joint] - clear


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
