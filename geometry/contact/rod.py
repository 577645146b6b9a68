"""How near a round rod with flat ends comes to convex pieces, many pairs at once.

Where the nearest points lie beside the rod the answer is a closed form. Where an end of the rod
comes into it, the two nearest points are found by projecting to and fro, with momentum. Either
way each answer has its own proof: two points that far apart bound the distance from above, and a
slab between the two bodies bounds it from below. Own derivation.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from geometry.contact.cone import highest_of_cone, project_to_cone
from geometry.contact.convex import Index, Pieces
from geometry.tolerances import TOL

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Near:
    """How near rods come to pieces, (n,) pairs.

    Attributes
    ----------
    distance : mm between the two points, 0 where rod and piece meet.
    on_rod, on_piece : (n, 3) mm, the two points; where they meet, a point in both.
    apart : (n, 3) unit vector from rod to piece.
    least : mm, the width of the empty slab across `apart`; the true distance is no less. Negative
        where they meet: by at least so much they overlap along `apart`.
    """

    distance: Array
    on_rod: Array
    on_piece: Array
    apart: Array
    least: Array


TURNS = 200
"""Most turns to and fro; a flat end almost parallel to a flat side needs the most, and where they
do not suffice the slab still tells the truth."""


def nearest(
    start: Array,
    stop: Array,
    radius: Array | float,
    pieces: Pieces,
    which: Index,
    turns: int = TURNS,
) -> Near:
    """Nearest points of rods, axes from `start` to `stop` (n, 3) mm, to the pieces `which` (n,).

    radius : mm, of all; or (n, 2), at start and at stop of each, between which a rod tapers.
    turns : most turns to and fro. With `TURNS` of them `distance` is true to `TOL.rod`; with
        fewer it may be more than the true one, and `least` less.
    """
    search = _Search(start, stop, radius, pieces, which)
    search.beside()
    search.to_and_fro(turns)
    return Near(search.distance, search.on_rod, search.on_piece, search.apart, search.least)


class _Search:
    """The best pair of points and the widest slab so far."""

    def __init__(
        self, start: Array, stop: Array, radius: Array | float, pieces: Pieces, which: Index
    ) -> None:
        self.start, self.stop = start, stop
        self.radius = np.broadcast_to(radius, (len(start), 2))
        self.pieces, self.which = pieces, which

    def beside(self) -> None:
        """Take the piece's nearest point to the rod's axis, and the rod's nearest to that."""
        t = self.pieces.beside(self.which, self.start, self.stop)
        axis = self.start + t[:, None] * (self.stop - self.start)
        self.on_piece = self.pieces.project(self.which, axis)
        self.on_rod = project_to_cone(self.start, self.stop, self.radius, self.on_piece)
        away = self.on_piece - self.on_rod
        self.distance = np.linalg.norm(away, axis=-1)
        self.distance[self.distance <= TOL.rod_meets] = 0.0
        meets = self.distance == 0.0
        away[meets] = (self.on_piece - axis)[meets]
        away[np.linalg.norm(away, axis=-1) <= TOL.rod_meets] = (0.0, 0.0, 1.0)
        self.apart = _unit(away)
        self.least = self.slab(np.arange(len(t)), self.apart)

    def to_and_fro(self, turns: int) -> None:
        """Narrow the bracket of the pairs in which an end of the rod comes into it."""
        open_ = np.flatnonzero((self.distance > 0.0) & self._wide())
        at = self.on_piece[open_]
        before, weight, last = at.copy(), np.ones(len(open_)), self.distance[open_]
        for _ in range(turns):
            if not len(open_):
                return
            which = self.which[open_]
            rod = self._on_rods(open_, at)
            piece = self.pieces.project(which, rod)
            rod = self._on_rods(open_, piece)
            away = piece - rod
            distance = np.linalg.norm(away, axis=-1)
            distance[distance <= TOL.rod_meets] = 0.0
            self._take(open_, distance, rod, piece)
            worse = distance > last
            after = np.where(worse, 1.0, 0.5 * (1.0 + np.sqrt(1.0 + 4.0 * weight**2)))
            push = np.where(worse, 0.0, (weight - 1.0) / after)
            at = piece + push[:, None] * (piece - before)
            keep = (self.distance[open_] > 0.0) & self._wide()[open_]
            open_, at, before, weight, last = (
                open_[keep], at[keep], piece[keep], after[keep], distance[keep],
            )  # fmt: skip

    def _take(self, pairs: Index, distance: Array, rod: Array, piece: Array) -> None:
        better = distance < self.distance[pairs]
        chosen = pairs[better]
        self.distance[chosen] = distance[better]
        self.on_rod[chosen], self.on_piece[chosen] = rod[better], piece[better]
        apart = distance > 0.0
        n = _unit((piece - rod)[apart])
        least = self.slab(pairs[apart], n)
        wider = least > self.least[pairs[apart]]
        chosen = pairs[apart][wider]
        self.least[chosen], self.apart[chosen] = least[wider], n[wider]

    def _on_rods(self, pairs: Index, points: Array) -> Array:
        return project_to_cone(self.start[pairs], self.stop[pairs], self.radius[pairs], points)

    def slab(self, pairs: Index, n: Array) -> Array:
        """Width of the slab across n (k, 3) between rod and piece, (k,); negative in overlap."""
        reach = highest_of_cone(self.start[pairs], self.stop[pairs], self.radius[pairs], n)
        return np.asarray(self.pieces.lowest(self.which[pairs], n) - reach)

    def _wide(self) -> NDArray[np.bool_]:
        return np.asarray(self.distance - self.least > TOL.rod)


def _unit(vectors: Array) -> Array:
    return np.asarray(vectors / np.linalg.norm(vectors, axis=-1, keepdims=True))
