"""Where one yoke gets in the other's way: a field on a net of nodes about the yoke's surface.

The metal of a yoke that has to go is what the other yoke sweeps over. At each node of the net the
least distance to the other yoke over all its poses is found; the tool that takes the metal off is
the space where that is less than the clearance. Where both yokes give way, the overlap is split
by depth: a point goes with the yoke to whose own surface it is nearer, in the ratio of the
shares, so that nothing is left of any overlap and what remains is apart by the clearance. Own
derivation: for two flat faces that overlap by d, a share s takes s (d + clearance) off.
"""

from itertools import product

import numpy as np
from scipy import ndimage

from geometry.contact.field import BAND, DistanceField, Index
from geometry.contact.sweep import Sweep
from geometry.mesh import Booleans, Floats
from geometry.relief.levelset import below_zero
from geometry.relief.parts import GROUND
from geometry.solids import Solid

CUBE = 3.2
"""mm, the most to the side of the cubes that are first told apart into near and clear ones."""

OUTSIDE = 2
"""Steps that the tool reaches beyond the old surface, so that its own rim is of no account."""

MARGIN = 1.3
"""Steps on either side of the ground surface within which the field is wanted exactly, where it
rises by one to one."""

SMOOTH = 0.8
"""Width, in steps, of the rounding that the field gets: a grinding wheel leaves no finer marks."""

UNSMOOTH = 0.05
"""Most, mm, that the rounding may leave standing; the rest of it only takes more off."""

SIMPLE = 0.02
"""mm by which the tool's surface may move to spare triangles."""


class Net:
    """The nodes about one yoke's surface that the other yoke may come near to.

    step : mm between nodes
    own : signed distance of the yoke itself, in its own frame; other : the other one, sweeping by
    flips : (k, 3) of +-1, the symmetries of the field, the identity first
    radius : mm, farther from the cross centre nothing can touch
    most_bend : rad, the highest bend that will be asked; room : mm, the most clearance
    """

    def __init__(
        self,
        step: float,
        own: DistanceField,
        other: Sweep,
        flips: Floats,
        radius: float,
        most_bend: float,
        room: float,
    ) -> None:
        self.step, self.own, self.other, self.flips = step, own, other, flips
        cube = int(CUBE / step + 1e-9)
        near = self._near_cubes(cube * step, radius, most_bend, room)
        corner = np.array(list(product(range(cube + 1), repeat=3)))
        node = np.unique((near[:, None] * cube + corner).reshape(-1, 3), axis=0)
        node = node[self._in_part(node, 0.0)]
        depth = own.exact(node * step)
        kept = depth < (OUTSIDE + 1) * step
        self.node, self.depth = node[kept], depth[kept]
        self._found: dict[tuple[float, float, float], Floats] = {}

    def _in_part(self, places: Floats, slack: float) -> Booleans:
        """Which places lie in the part of space that stands for the whole by symmetry."""
        if len(self.flips) == 4:
            return np.asarray((places[:, 1:] >= -slack).all(axis=1))
        if len(self.flips) == 2:
            axis = 2 if self.flips[1, 1] > 0.0 else 1
            return np.asarray(places[:, axis] >= -slack)
        return np.ones(len(places), dtype=bool)

    def _near_cubes(self, side: float, radius: float, bend: float, room: float) -> Index:
        """Cubes, by their lowest corners over their `side`, in which the yokes may come near."""
        outside = (OUTSIDE + 1) * self.step
        reach = 0.5 * side * 3.0**0.5
        count = int(np.ceil(radius / side)) + 1
        cube = np.array(list(product(range(-count, count), repeat=3)))
        middle = (cube + 0.5) * side
        keep = np.linalg.norm(middle, axis=1) < radius + reach
        keep &= self._in_part(middle, 0.0)
        cube, middle = cube[keep], middle[keep]
        keep = self.own.bound(middle.T.astype(np.float32)) < reach + outside
        cube, middle = cube[keep], middle[keep]
        return np.asarray(cube[self.other.comes_near(middle.T, bend, reach + room)])

    def prepare(self, bend: float, share: float, clearance: float) -> Floats:
        """Field (n,) at each node, negative where metal has to go; see `tool`.

        It is held to within `MARGIN` of the ground surface.
        """
        asked = bend, share, clearance
        if asked not in self._found:
            slope = (1.0 - share) / share
            least = slope * self.depth + clearance
            margin = MARGIN * self.step * (1.0 + slope)
            open_ = np.ones(len(least), dtype=bool)
            for other, field in self._found.items():
                # What a higher bend or a larger clearance leaves alone is left alone here too.
                if other[0] >= bend and other[1] == share and other[2] >= clearance:
                    open_ &= field < margin
            field = np.full(len(least), margin)
            level, places = least[open_], (self.node[open_] * self.step).T
            field[open_] = self.other.least(places, bend, level - margin, level + margin) - level
            self._found[asked] = field
        return self._found[asked]

    def tool(self, bend: float, share: float, clearance: float) -> Solid | None:
        """What has to go for the other yoke to be `clearance` mm away up to a bend, rad.

        share : of the overlap that this yoke gives way by, over 0 to 1. None for nothing.
        """
        field = self.prepare(bend, share, clearance)
        if not ((field < 0.0) & (self.depth < 0.5 * self.step)).any():
            return None
        images = (self.node * self.flips[:, None]).astype(np.intp)
        low, high = images.min(axis=(0, 1)) - 2, images.max(axis=(0, 1)) + 2
        values, depth = (np.full(high - low + 1, value) for value in (np.nan, BAND))
        for image in images:
            place = tuple((image - low).T)
            values[place], depth[place] = field, self.depth
        known = np.isfinite(values)
        weight = ndimage.gaussian_filter(known.astype(np.float64), SMOOTH)
        smooth = ndimage.gaussian_filter(np.where(known, values, 0.0), SMOOTH)
        smooth = np.minimum(smooth / np.maximum(weight, 1e-9), values + UNSMOOTH)
        closed = np.where(known, np.maximum(smooth, depth - OUTSIDE * self.step), BAND)
        vertices, faces = below_zero(closed, low * self.step, self.step)
        return Solid.of(vertices, faces, GROUND).simplified(SIMPLE)
