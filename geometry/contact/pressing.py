"""How deep points of one body of a joint come into another, over all turns and up to a bend.

Two kinds of pair: a yoke against the other yoke, which close on each other by bend and spin, and a
yoke against the cross, which swings in it by one angle. What is found on the net of a field is
settled on its exact distance. Depths are those of rigid bodies that go on where real ones stop.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from math import ceil, radians

import numpy as np

from geometry.contact.field import BAND, DistanceField, Single
from geometry.contact.sweep import Deepest, Sweep, Window, carried
from geometry.contact.swing import Swing
from geometry.joint import driven_in_driving
from geometry.mesh import Booleans, Floats

NEARLY = 0.3
"""mm of room at which a point is still worth settling on the exact distance: the net that is
searched on is off by two thirds of that at sharp edges."""

WALK = (0.4, 0.2, 0.1, 0.05)
"""mm, the steps in which the deepest pose is settled on the exact distance."""

SWING_STEP = radians(0.5)
"""Between the swings of a cross that are asked; 0.3 mm at the end of a grease fitting."""


class Pressing(ABC):
    """The other body as it comes by.

    field : its signed distance, in its own frame
    radius : mm from the cross centre, farther than which nothing touches
    """

    def __init__(self, field: DistanceField, radius: float) -> None:
        self.field, self.radius = field, radius

    def near(self, places: Floats, bend: float, within: float) -> Booleans:
        """Whether it may come within so many mm of places (3, n) up to a bend, rad; no is sure."""
        found: Booleans = np.linalg.norm(places, axis=0) < self.radius + within
        found[found] = self._near(places[:, found], bend, within)
        return found

    def deepest(self, points: Floats, bend: float, upto: float) -> Deepest:
        """Where each of some points, (n, 3), comes deepest up to a bend, rad; negative inside.

        upto : mm, from which distance on nobody cares: infinite there
        """
        places = np.ascontiguousarray(points.T, dtype=np.float32)
        found = self._deepest(places, bend, upto + NEARLY)
        (seen,) = np.nonzero(np.isfinite(found.bend))
        distance = np.full(len(points), np.inf)
        settled = Deepest(distance, found.bend, found.spin)
        distance[seen], settled.bend[seen], settled.spin[seen] = self._settled(
            points[seen].T, found.bend[seen], found.spin[seen], bend
        )
        distance[distance > upto] = np.inf
        return settled

    def at(self, points: Floats, bend: float, spin: float) -> Floats:
        """Signed distance (n,) mm from points (n, 3) in one pose, rad; exact within its band."""
        return self.field.exact(points @ self.rotation(bend, spin))

    def touches(self, points: Floats, bend: float, spins: Floats) -> Booleans:
        """At which spins (k,) rad it reaches one of some points, (n, 3), at a bend, rad."""
        turned = np.stack([points @ self.rotation(bend, spin) for spin in spins.tolist()])
        distance = self.field.exact(turned.reshape(-1, 3)).reshape(len(spins), -1)
        return np.asarray((distance < 0.0).any(axis=1))

    @abstractmethod
    def rotation(self, bend: float, spin: float) -> Floats:
        """Rotation (3, 3) of the other body's frame in the frame of the points, at a pose, rad."""

    @abstractmethod
    def _near(self, places: Floats, bend: float, within: float) -> Booleans:
        """As `near`, of places that are near enough to the cross centre."""

    @abstractmethod
    def _deepest(self, places: Single, bend: float, upto: float) -> Deepest:
        """On the net of the field."""

    @abstractmethod
    def _settled(
        self, points: Floats, bend: Floats, spin: Floats, most: float
    ) -> tuple[Floats, Floats, Floats]:
        """Exact distance (n,) mm, bend and spin (n,) rad, from a pose near the deepest on."""


class YokePressing(Pressing):
    """The other yoke, closing by bend and spin.

    to_driven : whether it is the driven one
    clear : rad, a bend up to which it touches nowhere
    """

    def __init__(self, field: DistanceField, radius: float, to_driven: bool, clear: float) -> None:
        super().__init__(field, radius)
        whole = Window.whole()
        self._sweep = Sweep(field, to_driven, Window(clear, whole.spins, whole.half))
        self._low = clear

    def rotation(self, bend: float, spin: float) -> Floats:
        """Rotation (3, 3) of the other yoke's frame in the frame of the points."""
        R_DN = driven_in_driving(bend, spin)
        return R_DN if self._sweep.to_driven else R_DN.T

    def _near(self, places: Floats, bend: float, within: float) -> Booleans:
        return self._sweep.comes_near(places, bend, within)

    def _deepest(self, places: Single, bend: float, upto: float) -> Deepest:
        level = np.full(places.shape[1], upto)
        wide = places.astype(np.float64)
        # The field tells no depth beyond its band apart, so there a point is deep enough.
        return self._sweep.deepest(wide, bend, np.full(len(level), -0.99 * BAND), level)

    def _settled(
        self, points: Floats, bend: Floats, spin: Floats, most: float
    ) -> tuple[Floats, Floats, Floats]:
        """Walk downhill, along the bend and the spin by turns."""

        def exact(bend: Floats, spin: Floats) -> Floats:
            return self.field.exact(carried(points, bend, spin, self._sweep.to_driven).T)

        radius = np.maximum(np.linalg.norm(points, axis=0), 1.0)
        least = exact(bend, spin)
        for step in WALK:
            for along_bend in (True, False):
                turn = step / radius / (1.0 if along_bend else np.maximum(np.tan(bend), 0.05))
                for sign in (-1.0, 1.0):
                    b = np.clip(bend + sign * turn, self._low, most) if along_bend else bend
                    s = spin if along_bend else spin + sign * turn
                    there = exact(b, s)
                    better = there < least
                    bend, spin = np.where(better, b, bend), np.where(better, s, spin)
                    least = np.where(better, there, least)
        return least, bend, spin


class SwingPressing(Pressing):
    """A cross that swings in a yoke, or a yoke about a cross.

    swing : in which yoke
    to_cross : whether the other body is the cross
    """

    def __init__(self, field: DistanceField, radius: float, swing: Swing, to_cross: bool) -> None:
        super().__init__(field, radius)
        self._swing, self._to_cross = swing, to_cross

    def rotation(self, bend: float, spin: float) -> Floats:
        """Rotation (3, 3) of the other body's frame in the frame of the points."""
        return self._turn(self._swing.angle(bend, spin))

    def _turn(self, angle: float) -> Floats:
        R_YX = self._swing.rotation(angle)
        return R_YX if self._to_cross else R_YX.T

    def _angles(self, bend: float) -> list[float]:
        count = 2 * ceil(bend / SWING_STEP) + 1
        angles: list[float] = np.linspace(-bend, bend, count).tolist()
        return angles

    def _near(self, places: Floats, bend: float, within: float) -> Booleans:
        found = np.zeros(places.shape[1], dtype=bool)
        slack = 0.5 * SWING_STEP * (self.radius + within)
        for angle in self._angles(bend):
            there = (self._turn(angle).T @ places).astype(np.float32)
            found |= self.field.bound(there) < within + slack
        return found

    def _deepest(self, places: Single, bend: float, upto: float) -> Deepest:
        least = np.full(places.shape[1], upto, dtype=np.float32)
        best = np.full(places.shape[1], np.nan)
        for angle in self._angles(bend):
            there = (self._turn(angle).T @ places).astype(np.float32)
            (near,) = np.nonzero(self.field.bound(there) < least)
            value = self.field.at(there[:, near])
            better = value < least[near]
            least[near[better]], best[near[better]] = value[better], angle
        return Deepest(least.astype(np.float64), np.abs(best), self._spins(best))

    def _spins(self, angles: Floats) -> Floats:
        """Spins (n,) rad at which a cross swings so far at that bend already."""
        known, own = np.unique(angles, return_inverse=True)
        spins = [a if np.isnan(a) else self._swing.spin(a, abs(a)) for a in known.tolist()]
        return np.array(spins)[own.reshape(-1)] if spins else np.zeros(0)

    def _settled(
        self, points: Floats, bend: Floats, spin: Floats, _most: float
    ) -> tuple[Floats, Floats, Floats]:
        """The deepest of all swings at which it was asked: what is between them is no deeper."""
        distance = np.full(len(bend), np.inf)
        poses, own = np.unique(np.stack([bend, spin]), axis=1, return_inverse=True)
        for number, (b, s) in enumerate(poses.T.tolist()):
            which = own.reshape(-1) == number
            distance[which] = self.at(points[:, which].T, b, s)
        return distance, bend, spin
