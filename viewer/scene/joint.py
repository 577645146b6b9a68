"""The picture of one joint in one pose, as data: where its metal touches, or how much room is left.

All in the chassis frame C, mm and rad.
"""

from dataclasses import dataclass

import numpy as np

from geometry.mesh import Mesh
from viewer.draw.camera import Floats
from viewer.scene.overlap import Bite, bites
from viewer.scene.parts import PosedPart, SceneError, set_array
from viewer.scene.side import telling_side

CAUTION = (
    "A computed picture of the shapes as described, not a rating of strength. Measure your own "
    "parts, and turn the shaft by hand through a full turn at this pose before driving."
)


@dataclass(frozen=True, eq=False)
class JointPicture:
    """One joint in one pose.

    Attributes
    ----------
    parts : what is drawn.
    solids : closed bodies that can touch, one each, called and coloured as in the key; the first
        two are the driving and the driven yoke. Without them no cut is shown.
    centre : (3,) the joint's centre.
    axes : (2, 3) directions of the driving and the driven shaft, each away from the centre.
    bend : angle between the shafts, 0 when straight.
    points : (2, 3) the two nearest points, or where bodies touch a pair of points in the touch;
        None marks nothing.
    gap_mm : room between the bodies, 0 when they overlap.
    overlaps : whether bodies overlap.
    overlap : the metal that would have to give; None where it is not known.
    bodies, surfaces : names of the two bodies at `points`, and of the surface on each.
    headline, lines, caution : words, written as they come.

    Raises SceneError where shapes do not fit.
    """

    parts: tuple[PosedPart, ...]
    solids: tuple[PosedPart, ...]
    centre: Floats
    axes: Floats
    bend: float
    points: Floats | None
    gap_mm: float
    overlaps: bool
    overlap: Mesh | None
    bodies: tuple[str, str]
    surfaces: tuple[str, str]
    headline: str
    lines: tuple[str, ...] = ()
    caution: str = CAUTION

    def __post_init__(self) -> None:
        if not self.parts:
            raise SceneError("a picture of a joint needs parts; got none")
        set_array(self, "centre", (3,))
        set_array(self, "axes", (2, 3))
        if self.points is not None:
            set_array(self, "points", (2, 3))

    @property
    def reach(self) -> float:
        """Radius around the centre that shows the joint and not a whole shaft, mm."""
        sizes: dict[str, float] = {}
        for part in self.parts:
            size = float(np.linalg.norm(part.in_chassis - self.centre, axis=1).max())
            sizes[part.name] = max(size, sizes.get(part.name, 0.0))
        second = sorted(sizes.values())[-2:][0]
        return min(max(sizes.values()), 1.5 * second)


@dataclass(frozen=True, eq=False)
class Spot:
    """A place that the picture points to.

    at : (3,) mm. across : (3,) direction across the gap or the overlap; None where unknown.
    size : mm, the gap or the depth of the overlap. bite : the overlap there; None without.
    """

    at: Floats
    across: Floats | None
    size: float
    bite: Bite | None = None

    @property
    def skin(self) -> float:
        """Metal in front of it, mm, with which it still counts as seen: it lies on metal or in."""
        return 0.6 + (1.2 * self.size if self.bite else 0.0)


def find_spots(picture: JointPicture) -> list[Spot]:
    """Places to point at: the pieces of overlap, or the gap, or where the points are."""
    if picture.overlap is not None:
        found = [Spot(bite.middle, bite.thin, bite.depth, bite) for bite in bites(picture.overlap)]
        if found:
            return found
    if picture.points is None:
        return []
    apart = picture.points[1] - picture.points[0]
    length = float(np.linalg.norm(apart))
    across = apart / length if length > 1e-6 and not picture.overlaps else None
    return [Spot(picture.points.mean(axis=0), across, picture.gap_mm)]


def look(picture: JointPicture, spots: list[Spot]) -> tuple[Floats, list[Spot]]:
    """Direction (3,) toward the eye, and the spots with the best shown one first."""
    bodies = picture.solids or picture.parts
    if not spots:
        toward, _ = telling_side(bodies, picture.axes, picture.centre[None])
        return toward, spots
    views = [
        telling_side(bodies, picture.axes, samples(picture, spot), spot.across, spot.skin)
        for spot in spots[:_TRIED]
    ]
    # A little more shown is no reason to pass over the larger overlap, which comes first.
    best = max(range(len(views)), key=lambda i: views[i][1] - 0.05 * i)
    rest = [spot for i, spot in enumerate(spots) if i != best]
    return views[best][0], [spots[best], *rest]


_TRIED = 2
"""Spots tried as the main one; by the symmetry of a joint there are two alike."""


def samples(picture: JointPicture, spot: Spot) -> Floats:
    """Places, (n, 3) mm, that stand for a spot: points all over an overlap, or along a gap."""
    if spot.bite is not None:
        vertices = spot.bite.mesh.vertices
        return np.asarray(vertices[:: max(1, len(vertices) // 12)])
    if picture.points is None:
        return spot.at[None]
    return np.concatenate([picture.points, spot.at[None]])
