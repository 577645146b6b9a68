"""The closure as numbers: how far every row is from closed, and how that changes.

The housing stands at ``R = Rz(yaw) Rx(roll) Ry(pitch)``, ``p = (x, y, travel)``. Travel and roll
are imposed; the four unknowns are (x, y, pitch, yaw), the angles times `LEVER`, so that all four
are millimetres of much the same weight. Arrays here have the batch last, (rows, poses).
"""

from abc import ABC, abstractmethod
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.suspension.links.members import Hold, Row
from sim.suspension.links.place import LEVER, Place, Vector

UNKNOWNS: Final = ("x", "y", "pitch", "yaw")

Curve = dict[tuple[int, int], FloatArray]
"""Lower triangle of a symmetric matrix by unknown, each (poses,)."""


@dataclass(frozen=True, eq=False)
class Asked:
    """Rows of one sort at some poses: e (rows, poses), its derivatives, and what they rest on."""

    e: FloatArray
    J: tuple[FloatArray, FloatArray, FloatArray, FloatArray]
    place: Place
    arrow: Vector
    """What the derivatives are taken of, in C."""
    pitched: Vector
    """Its derivative by the pitch, rad."""
    extra: tuple[Any, ...] = ()


class Sort(ABC):
    """Rows of one sort: their points as columns (rows, 1) of components."""

    def __init__(self, rows: Sequence[tuple[int, Row]]) -> None:
        self.index: NDArray[np.intp] = np.array([place for place, _ in rows], dtype=np.intp)
        self.p_A = _columns([row.p_A for _, row in rows])
        self.p_C = _columns([row.p_C for _, row in rows])
        self.axis = _columns([row.axis or (0.0, 0.0, 0.0) for _, row in rows])

    @abstractmethod
    def ask(self, place: Place) -> Asked:
        """The rows at some poses."""

    @abstractmethod
    def curve(self, asked: Asked, pull: FloatArray) -> Curve:
        """Sum over the rows of `pull` (rows, poses) times their second derivatives."""

    def apart(self, place: Place, p: Vector) -> Vector:
        """From the points of the chassis to points p before the housing's shift."""
        c = self.p_C
        return Vector(place.x + p.x - c.x, place.y + p.y - c.y, place.z + p.z - c.z)


def _turned_on(n: Vector, asked: Asked, pull: FloatArray) -> Curve:
    """Sum over the rows of `pull` times n . R p_A derived twice, with n held still."""
    a, h = asked.arrow, asked.pitched
    bent = {
        (2, 2): n.dot(asked.place.unpitched(h)),
        (3, 2): h.across(n),
        (3, 3): -(n.x * a.x + n.y * a.y),
    }
    return {key: np.sum(pull * second, axis=0) / LEVER**2 for key, second in bent.items()}


class Stretch(Sort):
    """Distance of the two points, less what it is at ride height."""

    def __init__(self, rows: Sequence[tuple[int, Row]]) -> None:
        super().__init__(rows)
        self.ride: FloatArray | float = 0.0
        self.ride = self.ask(Place.ride()).e  # by the same arithmetic, so that ride is exact

    def ask(self, place: Place) -> Asked:
        """|p + R p_A - p_C|."""
        a, pitched = place.turned(self.p_A)
        d = self.apart(place, a)
        length = np.sqrt(d.dot(d))
        u = Vector(d.x / length, d.y / length, d.z / length)
        J = u.x, u.y, u.dot(pitched) / LEVER, a.across(u) / LEVER
        return Asked(length - self.ride, J, place, a, pitched, (u, length))

    def curve(self, asked: Asked, pull: FloatArray) -> Curve:
        """(d_i . d_j - (u . d_i)(u . d_j)) / length + u . d_ij."""
        a, h, J = asked.arrow, asked.pitched, asked.J
        u, length = asked.extra
        by_length = pull / length
        square: dict[tuple[int, int], FloatArray | float] = {
            (0, 0): 1.0,
            (1, 0): 0.0,
            (1, 1): 1.0,
            (2, 0): h.x / LEVER,
            (2, 1): h.y / LEVER,
            (2, 2): h.dot(h) / LEVER**2,
            (3, 0): -a.y / LEVER,
            (3, 1): a.x / LEVER,
            (3, 2): a.across(h) / LEVER**2,
            (3, 3): (a.x * a.x + a.y * a.y) / LEVER**2,
        }
        curve = _turned_on(u, asked, pull)
        for (i, j), product in square.items():
            part = np.sum(by_length * (product - J[i] * J[j]), axis=0)
            curve[i, j] = curve[i, j] + part if (i, j) in curve else part
        return curve


class TurningAxis(Sort):
    """n . (R^T (p - p_C) + p_A): along an axis n that turns with the housing."""

    def ask(self, place: Place) -> Asked:
        """The rows at some poses."""
        n, pitched = place.turned(self.axis)
        c = self.p_C
        shift = Vector(place.x - c.x, place.y - c.y, place.z - c.z)
        e = n.dot(shift) + self.axis.dot(self.p_A)
        J = n.x, n.y, pitched.dot(shift) / LEVER, n.across(shift) / LEVER
        return Asked(e, J, place, n, pitched, (shift,))

    def curve(self, asked: Asked, pull: FloatArray) -> Curve:
        """Second derivatives of R n, and of its product with the shift."""
        n, m = asked.arrow, asked.pitched
        (shift,) = asked.extra
        bent = {
            (2, 0): m.x / LEVER,
            (2, 1): m.y / LEVER,
            (3, 0): -n.y / LEVER,
            (3, 1): n.x / LEVER,
            (2, 2): asked.place.unpitched(m).dot(shift) / LEVER**2,
            (3, 2): m.across(shift) / LEVER**2,
            (3, 3): -(n.x * shift.x + n.y * shift.y) / LEVER**2,
        }
        return {key: np.sum(pull * second, axis=0) for key, second in bent.items()}


class BentArms(Sort):
    """Three axes of each arm that turns in its bushes, with what its turn itself moves them.

    With w the rows of the arm along its axes, rows = w + w Q w / 2.
    """

    def __init__(self, rows: Sequence[tuple[int, Row]], bends: Sequence[FloatArray]) -> None:
        super().__init__(rows)
        self.straight = TurningAxis(rows)
        self.bend = np.stack(bends)

    def ask(self, place: Place) -> Asked:
        """The rows at some poses."""
        w = self.straight.ask(place)
        by_arm = w.e.reshape(len(self.bend), 3, -1)
        lean = np.einsum("akij,ain->akjn", self.bend, by_arm)
        e = w.e + 0.5 * np.einsum("akjn,ajn->akn", lean, by_arm).reshape(w.e.shape)
        J = tuple(
            part + np.einsum("akjn,ajn->akn", lean, part.reshape(by_arm.shape)).reshape(part.shape)
            for part in w.J
        )
        x, y, pitch, yaw = J
        return Asked(e, (x, y, pitch, yaw), place, w.arrow, w.pitched, (*w.extra, lean, *w.J))

    def curve(self, asked: Asked, pull: FloatArray) -> Curve:
        """Those of the straight rows, and the product of their slopes with Q."""
        *extra, lean, x, y, pitch, yaw = asked.extra
        arms = (len(self.bend), 3, -1)
        pulled = pull.reshape(arms)
        back = pull + np.einsum("akjn,akn->ajn", lean, pulled).reshape(pull.shape)
        straight = Asked(asked.e, asked.J, asked.place, asked.arrow, asked.pitched, tuple(extra))
        curve = self.straight.curve(straight, back)
        stiff = np.einsum("akn,akij->aijn", pulled, self.bend)
        slopes = [part.reshape(arms) for part in (x, y, pitch, yaw)]
        for i, one in enumerate(slopes):
            leaned = np.einsum("aijn,ain->ajn", stiff, one)
            for j in range(i + 1):
                product = np.einsum("ajn,ajn->n", leaned, slopes[j])
                curve[i, j] = curve[i, j] + product if (i, j) in curve else product
        return curve


class StandingAxis(Sort):
    """n . (p + R p_A - p_C): along an axis n of the chassis."""

    def ask(self, place: Place) -> Asked:
        """The rows at some poses."""
        n = self.axis
        a, pitched = place.turned(self.p_A)
        e = n.dot(self.apart(place, a))
        still = np.zeros_like(e)
        J = n.x + still, n.y + still, n.dot(pitched) / LEVER, a.across(n) / LEVER
        return Asked(e, J, place, a, pitched)

    def curve(self, asked: Asked, pull: FloatArray) -> Curve:
        """N . R p_A, derived twice."""
        return _turned_on(self.axis, asked, pull)


class Rows:
    """Every row of a set of members, ready to be asked for any number of poses."""

    def __init__(self, holds: Iterable[Hold]) -> None:
        by_sort: dict[type[Sort], list[tuple[int, Row]]] = {}
        bends: list[FloatArray] = []
        rows: list[Row] = []
        for hold in holds:
            for row in hold.rows:
                sort = BentArms if hold.bend is not None else _sort_of(row)
                by_sort.setdefault(sort, []).append((len(rows), row))
                rows.append(row)
            if hold.bend is not None:
                bends.append(hold.bend)
        self.count = len(rows)
        self.stiffness = np.array([[row.stiffness] for row in rows])
        self.weight = self.stiffness / self.stiffness.max(initial=1e-300)
        self._sorts = [
            BentArms(some, bends) if sort is BentArms else sort(some)
            for sort, some in by_sort.items()
        ]

    def __call__(
        self, q: FloatArray, travel: FloatArray, roll: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        """Rows (rows, poses) in mm, and derivatives (4, rows, poses) by the unknowns."""
        place = Place.of(q, travel, roll)
        e, J = self._room(travel.size)
        for sort in self._sorts:
            self._put(sort, sort.ask(place), e, J)
        return e, J

    def with_curve(
        self, q: FloatArray, travel: FloatArray, roll: FloatArray
    ) -> tuple[FloatArray, FloatArray, Curve]:
        """The same, and the sum of weight x row x second derivatives."""
        place = Place.of(q, travel, roll)
        e, J = self._room(travel.size)
        total: Curve = {}
        for sort in self._sorts:
            asked = sort.ask(place)
            self._put(sort, asked, e, J)
            for key, part in sort.curve(asked, self.weight[sort.index] * asked.e).items():
                total[key] = total[key] + part if key in total else part
        return e, J, total

    def _room(self, poses: int) -> tuple[FloatArray, FloatArray]:
        return np.empty((self.count, poses)), np.empty((4, self.count, poses))

    def _put(self, sort: Sort, asked: Asked, e: FloatArray, J: FloatArray) -> None:
        rows = slice(None) if len(self._sorts) == 1 else sort.index
        e[rows] = asked.e
        for unknown, derivative in enumerate(asked.J):
            J[unknown, rows] = derivative


def _sort_of(row: Row) -> type[Sort]:
    if row.axis is None:
        return Stretch
    return TurningAxis if row.axis_on == "axle" else StandingAxis


def _columns(points: list[tuple[float, float, float]]) -> Vector:
    return Vector(*np.array(points).T[:, :, None])
