"""From where a view looks, and where on the page it lies."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

VIEW_ANGLE = float(np.radians(24.0))
"""rad from the lower to the upper edge of a perspective view: that of a long lens, which makes near
and far parts of a joint about equally large."""

FORWARD, LEFT, UP = np.eye(3)
"""Directions of the vehicle, in C."""


@dataclass(frozen=True)
class Region:
    """A rectangle on the page, px, counted from the page's lower left corner."""

    left: float
    bottom: float
    width: float
    height: float

    @classmethod
    def around(cls, middle: Floats, half: float) -> "Region":
        """Square around a place (2,) px, `half` px to each side."""
        return cls(float(middle[0]) - half, float(middle[1]) - half, 2.0 * half, 2.0 * half)

    @classmethod
    def between(cls, low: Floats, high: Floats) -> "Region":
        """Rectangle with these two corners, (2,) px each."""
        return cls(*low.tolist(), *(high - low).tolist())

    @property
    def right(self) -> float:
        """Right edge, px."""
        return self.left + self.width

    @property
    def top(self) -> float:
        """Upper edge, px."""
        return self.bottom + self.height

    @property
    def middle(self) -> Floats:
        """Middle (2,), px."""
        return np.array([self.left + 0.5 * self.width, self.bottom + 0.5 * self.height])

    @property
    def corners(self) -> Floats:
        """Lower left and upper right corner, (2, 2) px."""
        return np.array([[self.left, self.bottom], [self.right, self.top]])

    def meets(self, other: "Region") -> bool:
        """Whether the two rectangles have any area in common."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )

    def holds(self, other: "Region") -> bool:
        """Whether all of the other rectangle lies in this one."""
        (low, high), (least, most) = other.corners, self.corners
        return bool((low >= least).all() and (high <= most).all())

    def moved(self, right: float, up: float) -> "Region":
        """Return this rectangle moved by so many px."""
        return Region(self.left + right, self.bottom + up, self.width, self.height)

    @property
    def rim(self) -> Floats:
        """Its four corners in turn, (4, 2) px."""
        (left, bottom), (right, top) = self.corners
        return np.array([[left, bottom], [right, bottom], [right, top], [left, top]])

    def grown(self, by: float) -> "Region":
        """Return this rectangle with every edge moved outward by `by` px."""
        return Region(
            self.left - by, self.bottom - by, self.width + 2.0 * by, self.height + 2.0 * by
        )


@dataclass(frozen=True, eq=False)
class Camera:
    """A parallel view: equal lengths look equal wherever they are, so a gap can be measured.

    Attributes
    ----------
    focus : (3,) mm in C, the point in the middle of the region.
    toward : (3,) in C, the direction from the focus to the eye; any length.
    up : (3,) in C, what points up on the page, as far as it can; not parallel to `toward`.
    span : mm shown from the lower to the upper edge of the region.
    """

    focus: Floats
    toward: Floats
    up: Floats
    span: float

    @cached_property
    def R_VC(self) -> Floats:
        """Rotation from C to the view: right, up on the page, toward the eye, (3, 3)."""
        toward = self.toward / np.linalg.norm(self.toward)
        right = np.cross(self.up, toward)
        right = right / np.linalg.norm(right)
        return np.stack([right, np.cross(toward, right), toward])

    @property
    def away(self) -> float:
        """From the eye to the focus where it is seen in perspective, mm."""
        return 0.5 * self.span / float(np.tan(0.5 * VIEW_ANGLE))

    def project(self, points: ArrayLike, region: Region, perspective: bool = False) -> Floats:
        """Place points, (..., 3) mm in C, on the page, (..., 2) px."""
        seen = (np.asarray(points, float) - self.focus) @ self.R_VC.T
        nearer = self.away / (self.away - seen[..., 2:]) if perspective else 1.0
        return np.asarray(region.middle + seen[..., :2] * nearer * self.px_per_mm(region))

    def depth(self, points: ArrayLike) -> Floats:
        """How far, (...) mm, points (..., 3) lie in front of the focus, toward the eye."""
        return np.asarray((np.asarray(points, float) - self.focus) @ self.R_VC[2])

    def px_per_mm(self, region: Region) -> float:
        """Return the scale in the plane of the page."""
        return region.height / self.span


def framing(
    points: Floats,
    toward: ArrayLike,
    up: ArrayLike,
    region: Region,
    margin: float = 0.06,
    perspective: bool = False,
) -> Camera:
    """Camera that just shows all `points`, (n, 3) mm in C, in a region with a margin around."""
    start = Camera(np.zeros(3), np.asarray(toward, float), np.asarray(up, float), 1.0)
    seen = points @ start.R_VC.T
    low, high = seen.min(axis=0), seen.max(axis=0)
    middle, shape = 0.5 * (low + high), np.array([region.width / region.height, 1.0])
    # Half of what is seen from edge to edge, of what lies in the plane of each point's own depth.
    half = np.abs(seen[:, :2] - middle[:2]) / shape / (1.0 - 2.0 * margin)
    span = 2.0 * float(half.max())
    if perspective:
        slope = np.tan(0.5 * VIEW_ANGLE)
        span = 2.0 * float((half.max(axis=1) + slope * (seen[:, 2] - middle[2])).max())
    return Camera(middle @ start.R_VC, start.toward, start.up, span)
