"""The place where a joint is tightest in one pose: what meets, where, and across what."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot

import numpy as np

from geometry.contact.gap import Gap
from geometry.mesh import Mesh
from sim.frames import unit
from sim.hardware.head import cross_of
from sim.pose import PosedJoint
from viewer.draw.camera import Floats
from viewer.scene.joint_bodies import Body, CrossAt, JointFrame, crosses_of
from viewer.scene.section import cut
from viewer.scene.spot import Spot, overlap, spots_of

SLICES = 9
"""Cuts tried through an overlap, to find where it is deepest."""

THIN = 4.0
"""Depths of an overlap that count of its width where it is wider."""

RIVAL = 0.5
"""Share of the largest piece of overlap that a piece has to have to be the one that is shown."""


@dataclass(frozen=True, eq=False)
class Measured:
    """What a cut shows of a meeting.

    at : (3,) mm in C, its middle. ends : (2, 3) the points to measure between; None where there is
    nothing to. extent : mm, what has to be seen well of the place in the cut.
    """

    at: Floats
    ends: Floats | None
    extent: float

    @property
    def size(self) -> float | None:
        """From end to end, mm: the gap, or how deep."""
        return None if self.ends is None else float(np.linalg.norm(self.ends[1] - self.ends[0]))


@dataclass(frozen=True, eq=False)
class Meeting:
    """Where a joint is tightest.

    Attributes
    ----------
    frame : where the joint is. crosses : each with its yokes. gap : what is least there.
    spot : the place, in C.
    """

    frame: JointFrame
    crosses: tuple[CrossAt, ...]
    gap: Gap
    spot: Spot

    @property
    def cross(self) -> CrossAt:
        """The cross that the gap is at."""
        return self.crosses[cross_of(self.gap)]

    @cached_property
    def bodies(self) -> dict[str, Body]:
        """Every yoke and cross by a name of its own."""
        return {
            f"{number} {key}": body
            for number, cross in enumerate(self.crosses)
            for key, body in cross.bodies().items()
        }

    @property
    def pair(self) -> tuple[str, str]:
        """Names in `bodies` of the two that meet."""
        first, second = self.gap.bodies
        number = cross_of(self.gap)
        return f"{number} {first}", f"{number} {second}"

    @property
    def names(self) -> tuple[str, str]:
        """What a shop calls the two that meet."""
        first, second = self.cross.hardware.names(self.gap)
        return first, second

    @property
    def across(self) -> Floats | None:
        """Direction (3,) in C from metal to metal; None where it is not known."""
        return self.spot.across

    def measured(self, normal: Floats) -> Measured:
        """What there is to measure in a cut square to `normal` (3,): a gap, or how deep.

        The depth is that of all the metal in common, the way one body has to back out; the cut is
        where most of it is seen.
        """
        bite, across = self.spot.bite, self.spot.across
        if bite is None or across is None:
            ends = self.spot.places[:2]
            open_ = not self.gap.overlaps and self.gap.distance > 0.0
            return Measured(self.spot.at, ends if open_ else None, self.gap.distance)
        R = np.stack([np.cross(across, normal), across, normal])
        seen = bite.vertices @ R.T
        (_, low, first), (_, high, last) = seen.min(axis=0), seen.max(axis=0)
        best, found = 0.0, Measured(self.spot.at, None, 0.0)
        for share in (np.arange(SLICES) + 0.5) / SLICES:
            height = first + share * (last - first)
            X_VC = np.eye(4)
            X_VC[:3, :3], X_VC[2, 3] = R, -height
            flat = cut(bite, X_VC).reshape(-1, 2)
            if not len(flat):
                continue
            wide, deep = np.ptp(flat, axis=0).tolist()
            # A little more depth is no reason to leave the middle, or it would wander.
            worth = deep * (1.0 - 0.1 * abs(share - 0.5))
            if worth > best:
                aside, middle = 0.5 * (flat.min(axis=0) + flat.max(axis=0))
                ends = np.array([[aside, low, height], [aside, high, height]]) @ R
                # Of one that is wide and thin the depth has to be seen as well.
                extent = min(hypot(deep, wide), THIN * deep)
                best, found = worth, Measured(np.array([aside, middle, height]) @ R, ends, extent)
        return found


def meeting_of(frame: JointFrame, now: PosedJoint, last: Floats | None = None) -> Meeting:
    """Find where a joint is tightest in its pose.

    last : (3,) mm in C, where it was just now: of places alike the nearest to it is taken.
    """
    gap = now.gap
    crosses = crosses_of(frame, now.hardware, gap)
    cross = crosses[cross_of(gap)]
    common = overlap(*cross.meeting(gap)) if gap.overlaps else None
    spots = [_placed(spot, cross.X_CK) for spot in spots_of(gap.points, gap.distance, common)]
    spot = _same(spots, last)
    if gap.overlaps and spot.bite is None and last is not None:
        # A graze: its two points lie anywhere in the cut, and the place just now is as near.
        spot = replace(spot, at=last)
    return Meeting(frame, crosses, gap, spot)


def is_one(first: str, second: str) -> bool:
    """Whether two names in `bodies` are of one piece of metal, as the halves of a center yoke."""
    return first == second or {first, second} == {"0 driven", "1 driving"}


def radial(meeting: Meeting, at: Floats) -> tuple[Floats, Floats, float]:
    """The way along the joint, and square to it the way out to a place (3,), each (3,), and its mm.

    The way along lies between the two shafts, from the driving one to the driven one.
    """
    along = unit(meeting.frame.axes[1] - meeting.frame.axes[0])
    out = at - meeting.cross.X_CK[:3, 3]
    out = out - (out @ along) * along
    far = float(np.linalg.norm(out))
    return along, out / max(far, 1e-9), far


def _same(spots: Sequence[Spot], last: Floats | None) -> Spot:
    """The largest, or of those about as large the one that was shown last."""
    if last is None or len(spots) == 1:
        return spots[0]
    sizes = [0.0 if spot.bite is None else spot.bite.volume for spot in spots]
    rivals = [spot for spot, size in zip(spots, sizes, strict=True) if size >= RIVAL * max(sizes)]
    return min(rivals, key=lambda spot: float(np.linalg.norm(spot.at - last)))


def _placed(spot: Spot, X: Floats) -> Spot:
    """A spot given in a frame, taken to where the frame is."""
    R, p = X[:3, :3], X[:3, 3]
    bite = spot.bite
    moved = None if bite is None else Mesh.uniform(bite.vertices @ R.T + p, bite.faces, "overlap")
    across = None if spot.across is None else R @ spot.across
    return replace(
        spot, at=R @ spot.at + p, across=across, places=spot.places @ R.T + p, bite=moved
    )
