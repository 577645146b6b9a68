"""The search for the smallest grind that reaches a bend, and for where it has to stop."""

from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from math import degrees

import numpy as np

from geometry.contact.first_touch import certify, first_touches
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.pair import DRIVEN, DRIVING
from geometry.contact.touch import TouchCurve, touch_curve
from geometry.errors import ShapeError
from geometry.mesh import Mesh
from geometry.relief.bench import Bench, surfaces
from geometry.relief.net import Net
from geometry.relief.parts import Grindable
from geometry.relief.result import Cut, Plan, Relief, Stop, Way
from geometry.relief.survey import Survey
from geometry.tolerances import TOL

CLEARANCE = 0.8
"""mm kept all round up to the bend wanted: 1/32 in, the least that a shop can tell by a feeler or
a strip of paper. Common practice, no source."""

MOST_CLEARANCE = 3.0
"""mm. Past it the fields about the yokes would not be exact; a shop wants about half of it."""

MOST_TRIANGLES = 100_000
"""Triangles of a yoke; with these a search takes about a minute and 2 GB."""

LEAST_WALL = 4.8
"""mm of metal left at the thinnest place: 3/16 in. Our own cautious default; no source. What a
yoke needs depends on its steel and its load, and is not known here."""

SHARES: Mapping[Way, tuple[float, float]] = {
    "driving": (1.0, 0.0),
    "driven": (0.0, 1.0),
    "shared": (0.5, 0.5),
}
"""What the driving and the driven yoke give way by, as shares of the overlap."""

STEPS = 16
"""Steps from the bend as it is to the one wanted, among which the last sound one is sought."""

SPARE = 0.2
"""mm taken off beyond the clearance, for what the net rounds off; more where the certificate or
the gap left does not confirm that."""

MOST_SPARE = 0.8
"""mm taken off beyond the clearance at most."""

SHORT = 0.05
"""mm by which the gap left may fall short of the clearance; a shop cannot tell."""

LEAST_GAP = 0.05
"""mm; with less the yokes are taken to touch: it is the chord error of their meshes."""

SEEN = 60
"""Spins at which the gap left is looked at, over the part of a turn that speaks for the whole."""


def relief(
    driving: Grindable,
    driven: Grindable,
    cross: Mesh | None,
    wanted: float,
    clearance: float = CLEARANCE,
    least_wall: float = LEAST_WALL,
    curve: TouchCurve | None = None,
    ways: Sequence[Way] = ("driving", "driven", "shared"),
) -> Relief:
    """Find the smallest grind on each yoke, and on both by half, that frees a joint up to a bend.

    Measured on two cores, all three ways: 4 to 27 s and under 0.8 GB for yokes of the catalogue,
    20 s for two uneven scans of 11,000 triangles, 45 s and 2 GB for two of 86,000.

    driving, driven : the yokes.
    cross : what of the cross can touch, in the cross frame; it is never ground.
    wanted : rad, the bend to be reached at every spin.
    clearance : mm, to be left between the yokes up to that bend.
    least_wall : mm, the thinnest wall that may be left behind a ground surface.
    curve : the joint's touch curve, where it is known.
    ways : the ways of grinding to be planned.

    Raises ShapeError for a bend past `TOL.bend_limit`, lengths that cannot be, too fine a mesh, or
    parts that overlap as they stand.
    """
    if not 0.0 < wanted <= TOL.bend_limit:
        raise ShapeError(
            f"a bend of {degrees(wanted):g} deg is wanted; expected more than 0 and at most "
            f"{degrees(TOL.bend_limit):g} deg"
        )
    if not (0.0 <= clearance <= MOST_CLEARANCE and least_wall >= 0.0):
        raise ShapeError(
            f"a clearance of {clearance:g} mm and a least wall of {least_wall:g} mm; expected "
            f"0 to {MOST_CLEARANCE:g} mm and 0 mm or more"
        )
    finest = max(len(part.contact.faces) for part in (driving, driven))
    if finest > MOST_TRIANGLES:
        raise ShapeError(
            f"a yoke of {finest:,} triangles; expected at most {MOST_TRIANGLES:,}. Import it with "
            "fewer"
        )
    joint = ClosingJoint(JointParts(driving.contact, driven.contact, cross))
    known = curve or touch_curve(joint)
    search = _Search(joint, (driving, driven), known, wanted, clearance, least_wall)
    return Relief(wanted, clearance, least_wall, known.certified_clear, search.plans(ways))


@dataclass(frozen=True)
class _Try:
    """What one way of grinding comes to at one bend.

    cuts : by yoke; stop : what speaks against it; spare : mm taken off beyond the clearance
    """

    cuts: dict[str, Cut]
    stop: Stop | None
    spare: float = SPARE


class _Search:
    """Plans for one joint, over the same few bends."""

    def __init__(
        self,
        joint: ClosingJoint,
        parts: tuple[Grindable, Grindable],
        curve: TouchCurve,
        wanted: float,
        clearance: float,
        least_wall: float,
    ) -> None:
        self.joint, self.parts = joint, parts
        self.before, self.first = curve.certified_clear, curve.first
        self.wanted, self.clearance, self.least_wall = wanted, clearance, least_wall
        self.crossed = self._cross_stop()
        self.target = wanted if self.crossed is None else self.crossed.bend
        self.survey = Survey(joint, self.before, self.target, clearance + MOST_SPARE)
        symmetric = joint.turn.half_turn and joint.turn.mirror
        names = DRIVING, DRIVEN
        self.benches = [Bench(n, p, symmetric) for n, p in zip(names, parts, strict=True)]

    def _cross_stop(self) -> Stop | None:
        """What the cross touches before the bend wanted, whatever the yokes give way by."""
        first: Stop | None = None
        for swinging in self.joint.swings:
            for touch in first_touches(swinging, (-1.0, 1.0)):
                least = self.wanted if first is None else first.bend
                if touch is not None and touch.clear < least:
                    first = Stop("cross", "cross", touch.surfaces[1], touch.clear)
        return first

    def plans(self, ways: Sequence[Way]) -> tuple[Plan, ...]:
        """Several ways of grinding; each yoke alone at the same time, since they share nothing."""
        if self.target > self.before:
            # Made before two threads want them.
            self.survey.coarse, self.survey.fine  # noqa: B018
        with ThreadPoolExecutor(2) as pool:
            found = dict(zip(ways, pool.map(self._alone, ways), strict=True))
        return tuple(found[way] or self.plan(way) for way in ways)

    def _alone(self, way: Way) -> Plan | None:
        return None if way == "shared" else self.plan(way)

    def plan(self, way: Way) -> Plan:
        """Find the highest bend that this way of grinding reaches, and what it takes."""
        if not self.wanted > self.before:
            return self._finished(way, _Try({}, None), self.before)
        stop = self._hard_at_first(way)
        if not self.target > self.before or stop is not None:
            return self._finished(way, _Try({}, stop or self.crossed), self.before)
        step, stop = self._searched(way)
        best: tuple[int, _Try] | None = None
        # The coarse net takes a little more off than is needed: go on from there on the fine one.
        for ahead in range(step + 1, STEPS + 1):
            found = self._try(way, self._bend(ahead))
            if found.stop is not None:
                stop = found.stop
                break
            best, stop = (ahead, found), self.crossed
        while best is None and step > 0:
            found = self._try(way, self._bend(step))
            if found.stop is None:
                best = step, found
            else:
                step, stop = step - 1, found.stop
        if best is None:
            return self._finished(way, _Try({}, stop), self.before)
        return self._confirmed(way, self._bend(best[0]), best[1], stop)

    def _hard_at_first(self, way: Way) -> Stop | None:
        """What touches first, where it would have to give way and is never ground."""
        if self.first is None:
            return None
        touching = dict(zip(self.first.bodies, self.first.surfaces, strict=True))
        for bench, share in zip(self.benches, SHARES[way], strict=True):
            surface = touching.get(bench.name, "")
            if share and surface in bench.part.hard:
                return Stop(bench.part.hard[surface], bench.name, surface, self.first.bend)
        return None

    def _bend(self, step: int) -> float:
        return self.before + (self.target - self.before) * step / STEPS

    def _searched(self, way: Way) -> tuple[int, Stop | None]:
        """Last step that is sound on the coarse net, and what stops the next."""
        step, bad, ahead, stop = 0, STEPS + 1, STEPS, self.crossed
        while bad - step > 1:
            found = self._ground(self.survey.coarse, way, self._bend(ahead), SPARE)
            if found.stop is None:
                step = ahead
            else:
                bad, stop = ahead, found.stop
            ahead = (step + bad) // 2
        return step, stop

    def _try(self, way: Way, bend: float, spare: float = SPARE) -> _Try:
        """Grind for one bend, a little more where the gap left falls short of the clearance."""
        while True:
            found = self._ground(self.survey.fine, way, bend, spare)
            if not found.cuts:
                return found
            short = self.clearance - _gap(self._joint(found.cuts), bend)
            if short <= SHORT or spare >= MOST_SPARE:
                return replace(found, spare=spare)
            spare = min(spare + max(short, SHORT), MOST_SPARE)

    def _ground(self, nets: tuple[Net, Net], way: Way, bend: float, spare: float) -> _Try:
        """Grind so that one bend is reached, and see whether anything speaks against it."""
        clearance = self.clearance + spare
        asked = [
            (net, bench, share)
            for net, bench, share in zip(nets, self.benches, SHARES[way], strict=True)
            if share
        ]
        with ThreadPoolExecutor(2) as pool:
            list(pool.map(lambda each: each[0].prepare(bend, each[2], clearance), asked))
        cuts: dict[str, Cut] = {}
        for net, bench, share in asked:
            tool = net.tool(bend, share, clearance)
            chips = None if tool is None else bench.chips(tool)
            if tool is None or chips is None:
                continue
            for surface in surfaces(chips):
                if surface in bench.part.hard:
                    return _Try({}, Stop(bench.part.hard[surface], bench.name, surface, bend))
            cut = bench.cut(tool, chips, self.least_wall)
            if cut.wall < cut.limit:
                return _Try({}, Stop("wall", bench.name, "", bend))
            cuts[bench.name] = cut
        return _Try(cuts, None)

    def _confirmed(self, way: Way, bend: float, found: _Try, stop: Stop | None) -> Plan:
        """Have the certificate confirm the bend on the ground yokes; take more off where not."""
        while True:
            joint = self._joint(found.cuts)
            if _is_clear(joint, bend):
                return self._finished(way, _Try(found.cuts, stop), bend)
            spare = found.spare + SPARE
            again = self._try(way, bend, spare) if spare <= MOST_SPARE else found
            if again is found or again.stop is not None:
                stop = again.stop or stop or Stop("uncertain", "", "", bend)
                break
            found = again
        reached = touch_curve(joint).certified_clear
        return self._finished(way, _Try(found.cuts, stop), min(reached, bend))

    def _joint(self, cuts: Mapping[str, Cut]) -> ClosingJoint:
        driving, driven = (
            cuts[bench.name].contact if bench.name in cuts else bench.part.contact
            for bench in self.benches
        )
        return ClosingJoint(JointParts(driving, driven, self.joint.parts.cross))

    def _finished(self, way: Way, found: _Try, reached: float) -> Plan:
        gap = _gap(self._joint(found.cuts), reached)
        return Plan(way, self.before, reached, found.cuts, gap, found.stop)


def _is_clear(joint: ClosingJoint, bend: float) -> bool:
    """Whether the yokes are certified to be free of each other at every spin up to a bend."""
    # A gap that is hardly there takes the certificate very long, and is none to rely on.
    if _gap(joint, bend) < LEAST_GAP:
        return False
    return certify(joint.yokes, 0.0, joint.turn.end, bend).hit is None


def _gap(joint: ClosingJoint, bend: float) -> float:
    """Smallest gap (mm) between the yokes seen over a turn."""
    spins = np.linspace(0.0, joint.turn.end, SEEN, endpoint=False).tolist()
    return min(joint.yokes.nearest_at(bend, spin).distance for spin in spins)
