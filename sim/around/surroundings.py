"""How near what turns and moves comes to what lives around it, over the whole travel.

The shaft and the yokes at both its ends keep clear as the round rods of `sim.around.outline`. They
move with travel, roll and wrap; the smallest gap is found and certified by
`geometry.contact.clearance`. Things on the chassis are asked with the shaft and the yoke on the
pinion; things on the axle, seen from there, with the shaft and the yoke on the output.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from geometry.contact import clearance as search
from geometry.contact.clearance import Clearance, clearance
from geometry.errors import MeshError
from geometry.seeking import edge
from geometry.tolerances import TOL as TOUCH
from sim.around.lines import Line, line_ends
from sim.around.outline import CASE, SNOUT, TUBES, axle_rods, output_rods, shaft_rods
from sim.around.rods import Owner, Rod
from sim.around.things import Thing, thing_of
from sim.findings import Verdict
from sim.frames import FloatArray, read_only
from sim.hardware.head import EndHardware
from sim.rig import Rig
from sim.rig.surroundings import Surrounding
from sim.search.what_it_takes import WhatItTakes, takes_by
from sim.tolerances import TOL
from sim.travel.pieces import Piece, pieces
from sim.vehicle import RIDE, Joint, Pose, TravelRegion, Vehicle

HALVINGS = 8
"""Halvings of the travel in search of the first pose that touches: to 1/256 of it."""

MIDDLE = 0.5
"""Place on a side of a piece of the travel that is closed."""

SLIM = 0.9
"""Share of the slimmest rod that all are made slimmer by where it is asked how deep they meet."""

Tell = Callable[[str, int, int], None]
"""Told which thing is looked at, its number from 0 on, and how many there are."""


@dataclass(frozen=True, eq=False)
class SurroundingGap:
    """The smallest gap between what turns or moves and one thing near it, over the whole travel.

    Attributes
    ----------
    name : what it is called.
    part : which part comes nearest.
    of : what that is a part of.
    yields : whether it gives way where it is touched, as rubber does.
    gap_mm : 0 where they touch.
    certified_mm : no pose of the travel has less.
    finished : whether the certificate is as near to the gap as is promised,
        `geometry.tolerances.TOL.clearance`. Where not, the true gap lies between the two.
    at : the pose; where they touch, one about as near to ride height as any that does.
    points : (2, 3) mm in C, on the part and on the thing.
    fixed_to_axle : whether the thing moves with the axle.
    joint : the joint that the part is of; None for tube and slip.
    unseen : what was not asked: its size is not known, or it stands still against the thing.
    """

    name: str
    part: str
    of: Owner
    yields: bool
    gap_mm: float
    certified_mm: float
    finished: bool
    at: Pose
    points: FloatArray
    fixed_to_axle: bool
    joint: Joint | None = None
    unseen: tuple[str, ...] = ()

    @property
    def sure_mm(self) -> float:
        """What may be relied on, mm: the gap, or less where the search was cut short."""
        return self.gap_mm if self.finished else self.certified_mm

    @property
    def called(self) -> str:
        """What a shop calls the part: "shaft's tube", "boot on the slip", "pinion yoke"."""
        is_bare = self.of == "shaft" and not self.part.endswith(" the slip")
        return f"shaft's {self.part}" if is_bare else self.part

    @property
    def touches(self) -> bool:
        """Whether it is touched somewhere in the travel."""
        return self.gap_mm == 0.0

    def verdict(self, wanted: float) -> Verdict:
        """Verdict against the clearance wanted, mm."""
        if self.touches:
            return "touches"
        return "clear" if self.certified_mm >= wanted else "close"


def surrounding_gaps(
    rig: Rig,
    vehicle: Vehicle,
    joints: Mapping[Joint, EndHardware],
    tell: Tell | None = None,
) -> tuple[SurroundingGap, ...]:
    """Smallest gap to each of a rig's surroundings, in the order of the file.

    Raises
    ------
    MeshError
        For a mesh file that cannot be read.
    """
    if not rig.surroundings:
        return ()
    rods = rods_of(rig, vehicle, joints)
    found = []
    for number, each in enumerate(rig.surroundings):
        if tell is not None:
            tell(each.name, number, len(rig.surroundings))
        found.append(smallest_gap(vehicle, rods, thing_of(rig, each)))
    return tuple(found)


def keeps_off(
    rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware], wanted: float
) -> bool:
    """Whether each of a rig's surroundings surely has more than the clearance wanted, mm.

    Much less work than its smallest gap, where it has. False where that has to be found first.
    Raises MeshError for a mesh file that cannot be read.
    """
    rods = rods_of(rig, vehicle, joints) if rig.surroundings else ()
    for each in rig.surroundings:
        asked = _Asked(vehicle, rods, thing_of(rig, each))
        found = asked.over(vehicle.travel, beat=wanted + 2.0 * TOUCH.clearance)
        # As much above it as the certificate of a smallest gap may lie below the gap.
        off = not found.meets and found.certified >= wanted + TOUCH.clearance
        if not off or asked.inside(RIDE) is not None:
            return False
    return True


def touch_takes(
    rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware], thing: Surrounding
) -> WhatItTakes | None:
    """What the axle has to do to touch one thing near it; None for what it always sits inside."""
    return _Asked(vehicle, rods_of(rig, vehicle, joints), thing_of(rig, thing)).what_it_takes()


class Neighbours:
    """Things near the shaft, made ready once to be asked in one pose after the other.

    Raises MeshError for a mesh file that cannot be read.
    """

    def __init__(
        self,
        rig: Rig,
        vehicle: Vehicle,
        joints: Mapping[Joint, EndHardware],
        things: Sequence[Surrounding],
    ) -> None:
        rods = rods_of(rig, vehicle, joints) if things else ()
        self._asked = [_Asked(vehicle, rods, thing_of(rig, thing)) for thing in things]

    def at(self, pose: Pose) -> tuple[SurroundingGap, ...]:
        """Gap to each in one pose of the axle, in their order."""
        return tuple(asked.at(pose) for asked in self._asked)

    def first_on(
        self, name: str, path: Callable[[FloatArray], FloatArray], end: float
    ) -> float | None:
        """First place on a path of the axle, up to `end`, that touches the thing of a name.

        path : poses (k, 3) at places (k,) from 0 on, without a kink: travel mm, roll and wrap rad.

        None where all of it is clear; else a place that touches, `TOL.contact_travel` at most
        behind one up to which all is clear.
        """
        (asked,) = (each for each in self._asked if each.thing.name == name)
        return asked.on_path(path, end)


def gaps_at(
    rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware], at: Pose
) -> tuple[SurroundingGap, ...]:
    """Gap to each of a rig's surroundings in one pose of the axle, in the order of the file.

    Raises
    ------
    MeshError
        For a mesh file that cannot be read.
    """
    return Neighbours(rig, vehicle, joints, rig.surroundings).at(at)


def rods_of(rig: Rig, vehicle: Vehicle, joints: Mapping[Joint, EndHardware]) -> tuple[Rod, ...]:
    """Everything round that is asked: the shaft, and the yokes on output and pinion."""
    return (
        *shaft_rods(rig, vehicle, joints),
        *axle_rods(rig, vehicle, joints),
        *output_rods(rig, joints),
    )


def smallest_gap(vehicle: Vehicle, rods: Sequence[Rod], thing: Thing) -> SurroundingGap:
    """Smallest gap between rods and one thing over the whole travel."""
    asked = _Asked(vehicle, rods, thing)
    found = asked.over(vehicle.travel)
    if found.meets:
        return asked.told(asked.first_touch(vehicle.travel, found))
    return asked.told_inside(found, asked.inside(RIDE)) or asked.told(found)


def depth_left(
    vehicle: Vehicle, rods: Sequence[Rod], thing: Thing, poses: Sequence[Pose]
) -> tuple[float, Pose]:
    """The smallest gap (mm) to one thing in some poses, and the pose of it.

    Below zero it tells how deep they meet. Deeper than `slimmer` is told as that deep.
    """
    thin = slimmer(rods)
    asked = _Asked(vehicle, rods, thing, thin)
    return min(((asked.at(pose).gap_mm - thin, pose) for pose in poses), key=lambda met: met[0])


def deepest(vehicle: Vehicle, rods: Sequence[Rod], thing: Thing) -> tuple[float, Pose]:
    """The same over the whole travel."""
    thin = slimmer(rods)
    found = _Asked(vehicle, rods, thing, thin).over(vehicle.travel)
    return found.distance - thin, Pose(*map(float, found.pose))


def slimmer(rods: Sequence[Rod]) -> float:
    """By how much (mm) every one of some rods can be made slimmer."""
    return SLIM * min(min(rod.radii) for rod in rods)


class _Asked:
    """Those of the rods that move against a thing, made slimmer by so much (mm), and the thing."""

    def __init__(
        self, vehicle: Vehicle, rods: Sequence[Rod], thing: Thing, thinner: float = 0.0
    ) -> None:
        still: Owner = "axle" if thing.moves else "output"
        self.vehicle, self.thing = vehicle, thing
        self.rods = [rod for rod in rods if rod.of != still]
        if not self.rods:
            raise MeshError(f"{thing.name}: nothing moves against it; expected at least one part")
        self.lines: tuple[Line, ...] = tuple(dict.fromkeys(rod.along for rod in self.rods))
        self.asked = [
            search.Rod(
                self.lines.index(rod.along),
                rod.start,
                rod.stop,
                (rod.radii[0] - thinner, rod.radii[1] - thinner),
            )
            for rod in self.rods
        ]

    def motion(self, poses: FloatArray) -> tuple[FloatArray, FloatArray]:
        """How the lines move, seen from what the thing is fixed to."""
        return line_ends(self.vehicle, self.lines, poses, self.thing.moves)

    def over(self, region: TravelRegion, beat: float = np.inf) -> Clearance:
        """Clearance over a region of poses.

        Each piece of the region is asked for in its own coordinates, in which it is a box.
        """
        best: Clearance | None = None
        certified, finished = np.inf, True
        for piece in pieces(region):

            def motion(points: FloatArray, piece: Piece = piece) -> tuple[FloatArray, FloatArray]:
                return self.motion(np.stack(piece.poses(points), axis=-1))

            low, high = (np.where(piece.open, end, MIDDLE) for end in (0.0, 1.0))
            found = clearance(motion, low, high, self.asked, self.thing.tree, beat=beat)
            certified, finished = min(certified, found.certified), finished and found.finished
            if best is None or found.distance < best.distance:
                pose = read_only(np.stack(piece.poses(found.pose), axis=-1))
                best = replace(found, pose=pose)
            beat = min(beat, best.distance)
            if best.meets:
                return best
        if best is None:
            raise MeshError(f"{self.thing.name}: no travel to keep clear in; expected some")
        return replace(best, certified=certified, finished=finished)

    def at(self, pose: Pose) -> SurroundingGap:
        """Gap in one pose."""
        here = np.array([pose.travel, pose.roll, pose.wrap])
        found = clearance(self.motion, here, here, self.asked, self.thing.tree)
        inside = None if found.meets else self.inside(pose)
        return self.told_inside(found, inside) or self.told(found)

    def inside(self, pose: Pose) -> Rod | None:
        """A rod that sits wholly inside a closed mesh, whose surface none of them meets.

        Rods of one line hang together, so that one of them tells of all. Without a touch anywhere
        they are inside in every pose or in none, so that one pose tells of all.
        """
        if self.thing.mesh is None:
            return None
        begin, end = self.motion(np.array([[pose.travel, pose.roll, pose.wrap]]))
        for number, (start, stop) in enumerate(zip(begin[:, 0], end[:, 0], strict=True)):
            rod = next(each for each in self.rods if self.lines[number] == each.along)
            length = float(np.linalg.norm(stop - start))
            middle = 0.5 * sum(share * length + beyond for share, beyond in (rod.start, rod.stop))
            if self.thing.holds(start + middle * (stop - start) / length):
                return rod
        return None

    def first_touch(self, region: TravelRegion, found: Clearance) -> Clearance:
        """Touch in about the smallest share of a region about ride height that has one."""
        met = [found]

        def is_clear(share: float) -> bool:
            inner = self.touch(region.scaled(share))
            met.extend([inner] if inner.meets else [])
            return not inner.meets

        edge(is_clear, 0.0, 1.0, halvings=HALVINGS)
        return met[-1]

    def touch(self, region: TravelRegion) -> Clearance:
        """Clearance over a region where only a touch is looked for.

        What is not followed is what overlaps by no more than the tolerance.
        """
        return self.over(region, beat=0.0)

    def on_path(self, path: Callable[[FloatArray], FloatArray], end: float) -> float | None:
        """As `Neighbours.first_on`: each part asked begins with the path, so nothing is passed."""

        def motion(points: FloatArray) -> tuple[FloatArray, FloatArray]:
            shape = points.shape[:-1]
            return self.motion(path(points[..., 0].reshape(-1)).reshape(*shape, 3))

        def is_clear(to: float) -> bool:
            far = np.array([to, MIDDLE, MIDDLE])
            near = np.array([0.0, MIDDLE, MIDDLE])
            return not clearance(motion, near, far, self.asked, self.thing.tree, beat=0.0).meets

        if is_clear(end):
            return None
        _, first = edge(is_clear, 0.0, end, TOL.contact_travel)
        return first

    def what_it_takes(self) -> WhatItTakes | None:
        """What the axle has to do for a touch; None for what sits inside in every pose."""
        region = self.vehicle.travel
        if not self.touch(region).meets:
            return None
        return takes_by(self._nearest_height, lambda part: self.touch(part).meets, region)

    def _nearest_height(self, region: TravelRegion) -> Pose | None:
        """The height nearest to ride height, about, at which a level region has a touch."""
        if self.at(RIDE).touches:
            return RIDE
        ways = (region.part(highest=0.0), region.part(lowest=0.0))
        touches = [(way, found) for way in ways if (found := self.touch(way)).meets]
        poses = [Pose(*map(float, self.first_touch(way, found).pose)) for way, found in touches]
        return min(poses, key=lambda at: abs(at.travel), default=None)

    def unseen(self) -> Iterator[str]:
        """What is not asked of the thing."""
        known = {rod.name for rod in self.rods}
        if self.thing.moves:
            if CASE not in known:
                yield CASE
            yield "pinion yoke"
            return
        housing = known & {SNOUT, TUBES}
        yield "rest of the axle housing" if housing else "axle housing"
        yield "output yoke"

    def told_inside(self, found: Clearance, rod: Rod | None) -> SurroundingGap | None:
        """A rod inside of the thing as data; None for none."""
        if rod is None:
            return None
        return replace(
            self.told(found), part=rod.name, of=rod.of, yields=rod.yields, joint=rod.joint,
            gap_mm=0.0, certified_mm=0.0, finished=True,
        )  # fmt: skip

    def told(self, found: Clearance) -> SurroundingGap:
        """What was found as data."""
        at, rod = Pose(*map(float, found.pose)), self.rods[found.rod]
        points = found.points
        if self.thing.moves:
            axle = self.vehicle.suspension.poses(at.travel, at.roll, at.wrap)
            points = points @ axle.R_CA.T + axle.p_C_A
        points = np.array(points)
        points.flags.writeable = False
        return SurroundingGap(
            name=self.thing.name,
            part=rod.name,
            of=rod.of,
            yields=rod.yields,
            gap_mm=found.distance,
            certified_mm=found.certified,
            finished=found.finished,
            at=at,
            points=points,
            fixed_to_axle=self.thing.moves,
            joint=rod.joint,
            unseen=tuple(self.unseen()),
        )
