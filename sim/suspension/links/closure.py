"""Closing the links: Newton's method for any number of poses at once, and the way from ride.

With four rows every row is brought to zero. With more, the sum of stiffness x row^2 is made
least, which is how bushes share what they have to give. Both are the same minimum, and so the
same steps, for which the rows and their first and second derivatives are known in closed form.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.suspension.links.place import LEVER
from sim.suspension.links.rows import UNKNOWNS, Curve, Rows
from sim.tolerances import TOL

MOST_STEPS = 12
"""Steps after which a pose counts as not closed; from a good guess it takes two to five."""

FIRST_SHARE = 1.0 / 16.0
"""First step of the way from a known pose to the one asked for, as a share of the whole."""

LEAST_SHARE = 2.0**-20
"""Shortest such step, after which the way is taken to end: a few ten-thousandths of a mm."""

GROWTH = 1.6
"""By how much the next step is longer after one that went well; after one that did not, half."""

STEADY = 0.3
"""Largest correction of a step of the way, as a share of the step itself. A closure farther from
the straight continuation may be another way to assemble the links."""

LIVELIEST = 8.0
"""Most that the housing moves in the first step of the way, in mm for each mm of travel."""


@dataclass(frozen=True, eq=False)
class Closed:
    """Unknowns (4, poses), mm; and whether each pose is closed."""

    q: FloatArray
    closed: NDArray[np.bool_]

    def only(self, some: NDArray[np.bool_]) -> "Closed":
        """Some of the poses."""
        return Closed(self.q[:, some], self.closed[some])


class Closure:
    """Solves the unknowns (x, y, pitch, yaw) for poses (travel, roll)."""

    def __init__(self, rows: Rows) -> None:
        self.rows = rows
        self.exact = rows.count == len(UNKNOWNS)
        self._hand = self._handedness(np.zeros((4, 1)), np.zeros(1), np.zeros(1))

    def close(self, guess: FloatArray, travel: FloatArray, roll: FloatArray) -> Closed:
        """Close poses (poses,) from a guess (4, poses) near each."""
        return self.balance(guess, travel, roll, None)

    def balance(
        self, guess: FloatArray, travel: FloatArray, roll: FloatArray, force: FloatArray | None
    ) -> Closed:
        """Close poses against a force (4, poses) on the unknowns, N over the stiffest row's N/mm.

        With no force, what is left in the rows is what the bushes have to give.
        """
        q = guess.copy()
        size = np.full(travel.shape, np.inf)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            for _ in range(MOST_STEPS):
                step = self._step(q, travel, roll, force)
                q -= step
                size = np.abs(step).max(axis=0)
                if not (size > TOL.closure_step).any():
                    break
        return Closed(q, size <= TOL.closure_step)

    def _step(
        self, q: FloatArray, travel: FloatArray, roll: FloatArray, force: FloatArray | None
    ) -> FloatArray:
        """Newton's step (4, poses)."""
        slope, curve = self._energy(q, travel, roll, bends=force is not None or not self.exact)
        if force is not None:
            slope -= force
        return _solved(*_factors(curve), slope)

    def _energy(
        self, q: FloatArray, travel: FloatArray, roll: FloatArray, bends: bool
    ) -> tuple[FloatArray, Curve]:
        """Slope (4, poses) and curvature of half the sum of weight x row^2.

        Where the rows vanish the curvature of the rows themselves has no part in it, so that
        it need not be worked out unless the rows `bends`.
        """
        if bends:
            e, J, curve = self.rows.with_curve(q, travel, roll)
        else:
            (e, J), curve = self.rows(q, travel, roll), {}
        weighted = J * self.rows.weight
        for i in range(len(J)):
            for j in range(i + 1):
                product = np.einsum("rn,rn->n", weighted[i], J[j])
                curve[i, j] = curve[i, j] + product if (i, j) in curve else product
        return np.einsum("irn,rn->in", weighted, e), curve

    def follow(
        self, travel: FloatArray, roll: FloatArray, start: Closed, share: FloatArray
    ) -> Closed:
        """Follow each pose straight from ride height's side, adapting the steps.

        `start` is closed at `share` of (travel, roll). Only steps that the straight continuation
        foresees are taken, which keeps to one way of assembling the links; a pose is not closed
        where its way ends before.
        """
        way = _Way(self, travel, roll, start, share)
        while way.going.any():
            way.go()
        return Closed(way.q, start.closed & (way.at >= 1.0))

    def same_hand(self, q: FloatArray, travel: FloatArray, roll: FloatArray) -> NDArray[np.bool_]:
        """Whether poses are assembled as at ride height: no dead centre lies between."""
        return self._handedness(q, travel, roll) * self._hand > 0.0

    def _handedness(self, q: FloatArray, travel: FloatArray, roll: FloatArray) -> FloatArray:
        """What changes its sign at a dead centre, (poses,).

        The determinant of four rows; with more of them, the least pivot of the curvature, which
        is above zero only where the energy in the bushes is least and not on a saddle.
        """
        if self.exact:
            _, J = self.rows(q, travel, roll)
            turned: FloatArray = np.linalg.det(np.moveaxis(J, -1, 0))
            return turned
        _, curve = self._energy(q, travel, roll, bends=True)
        least: FloatArray = np.min(_factors(curve)[1], axis=0)
        return least


class _Way:
    """Poses on their ways, each at its own share with its own stride."""

    def __init__(
        self,
        closure: Closure,
        travel: FloatArray,
        roll: FloatArray,
        start: Closed,
        share: FloatArray,
    ) -> None:
        self.closure, self.travel, self.roll = closure, travel, roll
        self.q, self.before = start.q.copy(), start.q.copy()
        self.at = share.copy()
        self.last = self.at.copy()
        self.stride = np.full(travel.shape, FIRST_SHARE)
        self.going = start.closed & (self.at < 1.0)

    def go(self) -> None:
        """Try one step on every way that has not ended."""
        here = np.flatnonzero(self.going)
        q, at = self.q[:, here], self.at[here]
        to = np.minimum(at + self.stride[here], 1.0)
        back = at - self.last[here]
        first = back == 0.0
        lead = np.where(first, 0.0, (to - at) / np.where(first, 1.0, back))
        foreseen = q + lead * (q - self.before[:, here])
        travel, roll = to * self.travel[here], to * self.roll[here]
        found = self.closure.close(foreseen, travel, roll)
        with np.errstate(invalid="ignore"):
            moved = np.abs(found.q - q).max(axis=0)
            off = np.abs(found.q - foreseen).max(axis=0)
            length = np.hypot(self.travel[here], LEVER * self.roll[here]) * (to - at)
            steady = np.where(first, moved <= LIVELIEST * length, off <= STEADY * moved + TOL.jump)
        good = found.closed & steady
        good[good] = self.closure.same_hand(found.q[:, good], travel[good], roll[good])
        ok, bad = here[good], here[~good]
        self.before[:, ok], self.last[ok] = self.q[:, ok], self.at[ok]
        self.q[:, ok], self.at[ok] = found.q[:, good], to[good]
        self.stride[ok] *= GROWTH
        self.stride[bad] *= 0.5
        self.going[bad[self.stride[bad] < LEAST_SHARE]] = False
        self.going[ok[to[good] >= 1.0]] = False


def _factors(curve: Curve) -> tuple[Curve, list[FloatArray]]:
    """Factors of a symmetric matrix by Cholesky's method without roots: rest, and pivots.

    Written out by component, which is what makes hundreds of thousands of poses a second
    possible.
    """
    lower, pivots, size = dict(curve), [], 4
    for j in range(size):
        pivots.append(lower[j, j])
        column = {i: lower[i, j] / pivots[j] for i in range(j + 1, size)}
        for i in range(j + 1, size):
            for k in range(j + 1, i + 1):
                lower[i, k] = lower[i, k] - column[i] * lower[k, j]
        for i, share in column.items():
            lower[i, j] = share
    return lower, pivots


def _solved(lower: Curve, pivots: list[FloatArray], slope: FloatArray) -> FloatArray:
    """Solve the four equations at each pose, (4, poses)."""
    x, size = list(slope), len(pivots)
    for i in range(size):
        for j in range(i):
            x[i] = x[i] - lower[i, j] * x[j]
    for i in reversed(range(size)):
        x[i] = x[i] / pivots[i]
        for j in range(i + 1, size):
            x[i] = x[i] - lower[j, i] * x[j]
    return np.stack(x)
