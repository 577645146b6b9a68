"""Things near the shaft in drawn rigs: how near it comes to them, or how deep it meets them.

How thick the shaft is stays as it is; where it runs, and where the things are, is as drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.around.rods import Rod
from sim.around.surroundings import SurroundingGap, deepest, depth_left, rods_of
from sim.around.things import Thing, thing_of
from sim.assessment import Assessment
from sim.bars.look import NUMBERS
from sim.frames import FloatArray
from sim.line import line
from sim.rests_on import Stand
from sim.rig import Rig
from sim.vehicle import Pose, Vehicle

FAR: Final = 50.0
"""mm. What the shaft stays farther away from than this beyond what is wanted is out of doubt."""


@dataclass(frozen=True)
class Near:
    """Things that may be touched.

    Attributes
    ----------
    rods : the shaft.
    numbers : of the things, in the rig's list.
    names : of the same.
    poses : where the shaft comes nearest to each.
    """

    rods: tuple[Rod, ...] = ()
    numbers: tuple[int, ...] = ()
    names: tuple[str, ...] = ()
    poses: tuple[Pose, ...] = ()

    def ready(self, rig: Rig) -> Things:
        """The things of the rig as it is, ready to be asked."""
        return Things(self, rig, tuple(thing_of(rig, rig.surroundings[n]) for n in self.numbers))


@dataclass(frozen=True, eq=False)
class Things:
    """Things of a rig, made ready once for all of its draws."""

    near: Near
    rig: Rig
    made: tuple[Thing, ...]

    def look(self, stand: Stand) -> FloatArray:
        """Rows (things, `NUMBERS`) of a drawn rig, in the pose that was nearest, moved along."""
        rows = np.full((len(self.made), NUMBERS), np.nan)
        for number, thing in enumerate(self._of(stand.rig)):
            at = self.near.poses[number]
            poses = stand.vehicle.travel.held_all(
                np.concatenate([stand.rivals(each).T[:1] for each in (at, _mirrored(at))])
            )
            reached = poses[line(stand.vehicle, *poses.T).reachable]
            asked = [Pose(*map(float, pose)) for pose in np.unique(reached, axis=0)]
            if not asked:
                continue
            gap, pose = depth_left(stand.vehicle, self.near.rods, thing, asked)
            rows[number, :4] = gap, pose.travel, pose.roll, pose.wrap
        return rows

    def sweep(self, rig: Rig, vehicle: Vehicle) -> dict[str, float]:
        """The gap (mm) to each over the whole travel of a drawn rig."""
        things = zip(self.near.names, self._of(rig), strict=True)
        return {name: deepest(vehicle, self.near.rods, thing)[0] for name, thing in things}

    def _of(self, rig: Rig) -> Sequence[Thing]:
        """The things of a drawn rig; those that are where they were are not made again."""
        return [
            thing
            if rig.surroundings[n] == self.rig.surroundings[n]
            else thing_of(rig, rig.surroundings[n])
            for n, thing in zip(self.near.numbers, self.made, strict=True)
        ]


def near_of(found: Assessment) -> Near:
    """What a rig's shaft may touch."""
    rig, close = found.rig, found.rig.wanted.clearance.mm + FAR
    near = [(n, gap) for n, gap in enumerate(found.near) if gap.certified_mm < close]
    if not near:
        return Near()
    rods = rods_of(rig, found.vehicle, found.parts)
    poses = [_nearest(found, rods, n, gap) for n, gap in near]
    return Near(rods, tuple(n for n, _ in near), tuple(gap.name for _, gap in near), tuple(poses))


def _nearest(found: Assessment, rods: Sequence[Rod], number: int, gap: SurroundingGap) -> Pose:
    """The pose in which a thing is nearest, or met deepest: its gap has the first that meets it."""
    if not gap.touches:
        return gap.at
    return deepest(found.vehicle, rods, thing_of(found.rig, found.rig.surroundings[number]))[1]


def _mirrored(at: Pose) -> Pose:
    """The same pose rolled the other way: on a vehicle that is even left and right, as near."""
    return Pose(at.travel, -at.roll, at.wrap)
