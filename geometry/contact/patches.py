"""Patches of contact: which places of a joint's bodies meet, how deep, where on the clock, when.

Points that go into another body (`geometry.contact.pressed`) hang together to patches, hardware
apart from the forging that carries it. Each is what a shop would see as one mark.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import pi

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components
from scipy.spatial import KDTree

from geometry.clock import clock
from geometry.contact.naming import first_name, surface_at
from geometry.contact.pair import CROSS
from geometry.contact.pressed import Against, Meeting, Pressed, around
from geometry.contact.skin import SAME
from geometry.contact.symmetry import HALF_TURN_X
from geometry.contact.triangles import distance_to_origin
from geometry.mesh import Booleans, Floats, Indices, Mesh
from geometry.tolerances import TOL

NEXT = 1.6
"""Times the spacing between points of one patch: more than the diagonal of a square of them."""

HARDWARE = ("bolt", "strap", "cap", "grease fitting")
"""Surfaces of their own pieces, whose marks are told apart from those of what carries them."""

LEAST_AREA, LEAST_DEPTH = 1.0, 0.05
"""mm2 and mm. A patch with less of both is rounding, or no mark that anybody would see."""

SPINS = 144
"""Spins at which a patch is asked whether it touches: every 2.5 deg, as for a touch curve."""

ASKED = 48
"""Points of a patch that are asked, spread over it, the deepest among them."""

MIDDLE = 0.5
"""A patch whose places point so many ways that their mean is under this share of one is spread
about the middle, where no clock position tells anything."""

PARTED = -pi / 6.0
"""Spin, rad, at which the first half turn begins."""

Arc = tuple[float, float]
"""From and to, rad; over a whole turn the second is the first plus two pi, past it less."""


@dataclass(frozen=True, eq=False)
class Patch:
    """One mark.

    Attributes
    ----------
    pressed : its points, in the frame of its body, with depths and first bends; what it is pressed
        into.
    wide : the same with the points around it that are not reached.
    surface : what a shop calls the place.
    against : the surface that met it.
    clock : rad, on a yoke, as `geometry.clock` has it; None about the middle and on the cross.
    pair : whether there is another one straight across the yoke.
    spins : arcs of the joint's own spin in which it touches, at the bend that the marks are for.
    """

    pressed: Pressed
    wide: Pressed
    surface: str
    against: str
    clock: float | None
    pair: bool
    spins: tuple[Arc, ...]

    @property
    def body(self) -> str:
        """Which body it is on."""
        return self.pressed.body

    @property
    def into(self) -> str:
        """Which body met it."""
        return self.pressed.into

    @property
    def points(self) -> Floats:
        """(n, 3) mm, in the frame of its body."""
        return self.pressed.skin.points

    @property
    def depths(self) -> Floats:
        """(n,) mm."""
        return self.pressed.depth

    @property
    def depth(self) -> float:
        """The deepest, mm."""
        return float(self.depths.max())

    @property
    def area(self) -> float:
        """How large it is, mm2."""
        return float(self.pressed.skin.areas.sum())

    @property
    def first(self) -> float:
        """The lowest bend at which it touches, rad."""
        return float(self.pressed.first.min())

    @property
    def deepest(self) -> Floats:
        """Where it is deepest, (3,) mm."""
        return np.asarray(self.points[int(self.depths.argmax())])

    @property
    def facing(self) -> Floats:
        """The way its surface faces, (3,), by depth."""
        mean = (self.depths * self.pressed.skin.areas) @ self.pressed.skin.normals
        return np.asarray(mean / max(float(np.linalg.norm(mean)), 1e-300))

    @property
    def surfaces(self) -> tuple[str, ...]:
        """All surfaces that it spreads over, the one that it is called by first."""
        met = {self.pressed.skin.names[label] for label in np.unique(self.pressed.skin.labels)}
        return self.surface, *sorted(met - {self.surface})

    def surface_mesh(self, proud: float = 0.0) -> tuple[Mesh, Floats]:
        """Its surface up to where nothing reaches, and the depth of each corner, (n,) mm.

        proud : mm off the metal. Triangles on the rim are cut where their depth runs out, on a
        straight line.
        """
        skin, depth = self.wide.skin, self.wide.depth
        # What is farther off than was asked has at least that much room.
        least = float(depth[np.isfinite(depth)].min(initial=-1.0))
        numbers = np.column_stack([skin.points, skin.normals, np.maximum(depth, least)])
        corners = kept_above(numbers, skin.faces)
        # A corner of several surfaces is one here, and stands off between them.
        places = np.round(corners[:, :3] / SAME).astype(np.int64)
        _, first, own = np.unique(places, axis=0, return_index=True, return_inverse=True)
        own = own.reshape(-1)
        sums = [np.bincount(own, corners[:, k], len(first)) for k in (3, 4, 5)]
        facing: Floats = np.stack(sums, axis=-1).astype(np.float64)
        size = np.maximum(np.linalg.norm(facing, axis=1, keepdims=True), 1e-300)
        points = corners[first, :3] + proud * facing / size
        return Mesh.uniform(points, own.reshape(-1, 3), "met"), corners[first, 6]

    @property
    def half_turns(self) -> tuple[int, ...]:
        """The half turns in which it is struck, by the middles of its arcs, 1 and 2; or all along.

        They are parted where hardly anything touches, 30 deg before the driving bores lie in the
        plane of the bend.
        """
        if any(high - low > pi for low, high in self.spins):
            return 1, 2
        middles = (0.5 * (low + high) for low, high in self.spins)
        return tuple(sorted({1 + int((middle - PARTED) % (2.0 * pi) >= pi) for middle in middles}))


def patches(meeting: Meeting, found: Iterable[Pressed], bend: float) -> tuple[Patch, ...]:
    """The patches of what was found up to a bend, rad, on whole bodies; the deepest first."""
    parts = [
        (meeting.pair(each), part)
        for each in found
        for part in _parts(each, meeting.spacing)
        if part[0].skin.areas.sum() >= LEAST_AREA or part[0].depth.max() >= LEAST_DEPTH
    ]
    parts.sort(key=lambda each: -round(float(each[1][0].depth.max()), 3))
    made = [_patch(meeting, pair, *part, bend) for pair, part in parts]
    return tuple(replace(each, pair=_across(each, made, meeting.spacing)) for each in made)


def _parts(found: Pressed, spacing: float) -> list[tuple[Pressed, Pressed]]:
    """What hangs together: the points that are reached, and those with what is around them."""
    (met,) = np.nonzero(found.met)
    points = found.skin.points[met]
    own = [name in HARDWARE for name in found.skin.names]
    piece = np.where(own, np.arange(len(own)), -1)[found.skin.labels[met]]
    links = KDTree(points).query_pairs(NEXT * spacing, output_type="ndarray")
    links = links[piece[links[:, 0]] == piece[links[:, 1]]]
    graph = coo_array((np.ones(len(links)), links.T), shape=(len(points), len(points)))
    count, number = connected_components(graph, directed=False)
    parts = []
    for each in range(count):
        inside = np.zeros(len(found), dtype=bool)
        inside[met[number == each]] = True
        parts.append((found.only(inside), found.only(around(found.skin.faces, inside))))
    return parts


def _patch(meeting: Meeting, pair: Against, part: Pressed, wide: Pressed, bend: float) -> Patch:
    deepest = int(part.depth.argmax())
    here = np.linalg.norm(part.skin.points - part.skin.points[deepest], axis=1) <= TOL.edge
    surface = first_name(part.skin.names[label] for label in np.unique(part.skin.labels[here]))
    rotation = pair.pressing.rotation(float(part.bend[deepest]), float(part.spin[deepest]))
    place, other = part.skin.points[deepest] @ rotation, getattr(meeting.parts, part.into)
    against = surface_at(other, int(distance_to_origin(other.triangles - place).argmin()), place)
    return Patch(part, wide, surface, against, _clock(part), False, _spins(pair, part, bend))


def _clock(part: Pressed) -> float | None:
    """By depth; the middle between the clock positions of its points."""
    if part.body == CROSS:
        return None
    at = part.skin.points[:, 1:]
    weight = part.depth * part.skin.areas
    mean = weight @ at
    if np.linalg.norm(mean) < MIDDLE * float(weight @ np.linalg.norm(at, axis=1)):
        return None
    return float(clock([0.0, *mean.tolist()]))


def _spins(pair: Against, part: Pressed, bend: float) -> tuple[Arc, ...]:
    order = np.argsort(-part.depth, kind="stable")
    asked = order[np.linspace(0, len(order) - 1, min(ASKED, len(order))).astype(int)]
    step = 2.0 * pi / SPINS
    spins: Floats = np.arange(SPINS, dtype=np.float64) * step
    touched = pair.pressing.touches(part.skin.points[asked], bend, spins)
    # What touches between two of them alone is there by its own deepest pose.
    touched[np.round(part.spin / step).astype(int) % SPINS] = True
    return arcs(touched | (np.roll(touched, 1) & np.roll(touched, -1)))


def arcs(touched: Booleans) -> tuple[Arc, ...]:
    """The arcs, rad, of evenly spaced spins over a turn, (n,), that touch; half a step to spare."""
    step = 2.0 * pi / len(touched)
    if touched.all():
        return ((0.0, 2.0 * pi),)
    change = np.diff(touched.astype(int), prepend=int(touched[-1]))
    starts, ends = np.flatnonzero(change > 0), np.flatnonzero(change < 0)
    found = []
    for start in starts.tolist():
        end = min((e - start) % len(touched) for e in ends.tolist())
        low = (start - 0.5) * step % (2.0 * pi)
        found.append((low, low + end * step))
    return tuple(found)


def _across(patch: Patch, others: Sequence[Patch], spacing: float) -> bool:
    """Whether there is metal met straight across the yoke from where a patch is deepest."""
    if patch.body == CROSS:
        return False
    mate = patch.deepest * HALF_TURN_X
    return any(
        float(np.linalg.norm(other.points - mate, axis=1).min()) <= 2.0 * spacing
        for other in others
        if other.body == patch.body
    )


def kept_above(numbers: Floats, faces: Indices) -> Floats:
    """The part of triangles where a value is above zero, by its corners, (3 m, k).

    numbers : (n, k), what there is at each corner, the value last; straight lines between. Each
    triangle takes three rows.
    """
    over = numbers[faces, -1] > 0.0
    count = over.sum(axis=1)
    pieces = [numbers[faces[count == 3]]]
    for alone in (1, 2):
        # The corner that is alone on its side comes first.
        some, above = faces[count == alone], over[count == alone]
        first = np.argmax(above == (alone == 1), axis=1)
        some = np.take_along_axis(some, (first[:, None] + np.arange(3)) % 3, axis=1)
        a, b, c = (numbers[some[:, k]] for k in range(3))
        ab, ac = (a + a[:, -1:] / (a - end)[:, -1:] * (end - a) for end in (b, c))
        rest = [(a, ab, ac)] if alone == 1 else [(ab, b, c), (ab, c, ac)]
        pieces += [np.stack(each, axis=1) for each in rest]
    return np.concatenate(pieces).reshape(-1, numbers.shape[1])
