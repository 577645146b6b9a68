"""Closing the links: Newton's method for any number of poses at once, and the way from ride.

With four rows every row is brought to zero. With more, the sum of stiffness x row^2 is made
least, which is how bushes share what they have to give. Both are the same minimum, and so the
same steps, for which the rows and their first and second derivatives are known in closed form.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sim.frames import FloatArray
from sim.suspension.links.rows import UNKNOWNS, Curve, Rows
from sim.tolerances import TOL

MOST_STEPS = 12
"""Steps after which a pose counts as not closed; from a good guess it takes two to five."""

FIRST_SHARE = 1.0 / 4.0
"""First step of the way from a known pose to the one asked for, as a share of the whole."""

LEAST_SHARE = 2.0**-17
"""Shortest such step, after which the way is taken to end: some thousandths of a mm."""

GROWTH = 2.0
"""By how much the next step is longer after one that went well; after one that did not, half."""

LONGEST = 60.0
"""mm, or as much turn at the lever of the angles, that the housing moves in one step of the way:
other ways to assemble the links lie farther off, but near a dead centre, which is told apart."""

STEADY = 0.25
"""Largest second step of Newton's method, as a share of the first, for a step of the way to be
taken. Below a half the method stays near its start and finds the closure that hangs together
with it, not another way to assemble the links [DEUFLHARD]; half of that again, since the bound is
for the start alone."""


@dataclass(frozen=True, eq=False)
class Closed:
    """Unknowns (4, poses), mm; and whether each pose is closed."""

    q: FloatArray
    closed: NDArray[np.bool_]
    steadiness: FloatArray
    """(poses,) second step of Newton's method as a share of the first; 0 where it was the last."""

    def only(self, some: NDArray[np.bool_]) -> "Closed":
        """Some of the poses."""
        return Closed(self.q[:, some], self.closed[some], self.steadiness[some])


@dataclass(frozen=True, eq=False)
class Followed(Closed):
    """The same for poses that were followed from ride height's side."""

    share: FloatArray
    """(poses,) how far each way went, 1 where it arrived."""


class Closure:
    """Solves the unknowns (x, y, pitch, yaw) for poses (travel, roll)."""

    def __init__(self, rows: Rows) -> None:
        self.rows = rows
        self.exact = rows.count == len(UNKNOWNS)
        self._hand = self._handedness(np.zeros((4, 1)), np.zeros(1), np.zeros(1))

    def ride(self, poses: int) -> Closed:
        """Ride height, level, as a start for so many poses."""
        return Closed(np.zeros((4, poses)), np.ones(poses, dtype=bool), np.zeros(poses))

    def close(self, guess: FloatArray, travel: FloatArray, roll: FloatArray) -> Closed:
        """Close poses (poses,) from a guess (4, poses) near each."""
        return self.balance(guess, travel, roll, None)

    def balance(
        self,
        guess: FloatArray,
        travel: FloatArray,
        roll: FloatArray,
        force: FloatArray | None,
        patience: float = np.inf,
    ) -> Closed:
        """Close poses against a force (4, poses) on the unknowns, N over the stiffest row's N/mm.

        With no force, what is left in the rows is what the bushes have to give. A pose whose
        steadiness is worse than `patience` is not waited for.
        """
        q = guess.copy()
        sizes: list[FloatArray] = []
        steadiness = np.zeros(travel.shape)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            while len(sizes) < MOST_STEPS:
                step = self._step(q, travel, roll, force)
                q -= step
                sizes.append(np.abs(step).max(axis=0))
                if len(sizes) == 2:
                    steadiness = np.where(sizes[1] <= TOL.closure_step, 0.0, sizes[1] / sizes[0])
                if not ((sizes[-1] > TOL.closure_step) & (steadiness <= patience)).any():
                    break
        return Closed(q, sizes[-1] <= TOL.closure_step, steadiness)

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
        self,
        travel: FloatArray,
        roll: FloatArray,
        start: Closed,
        share: FloatArray,
        least: float = LEAST_SHARE,
    ) -> Followed:
        """Follow each pose straight from ride height's side, adapting the steps.

        `start` is closed at `share` of (travel, roll). Only steps that Newton's method takes
        steadily are taken, which keeps to one way of assembling the links; a pose is not closed
        where its way ends before, found to `least` of its length.
        """
        way = _Way(self, travel, roll, start, share)
        while way.going.any():
            way.go(least)
        return Followed(way.q, start.closed & (way.at >= 1.0), start.steadiness, way.at)

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
        self.q = start.q.copy()
        self.at = share.copy()
        self.stride = np.full(travel.shape, FIRST_SHARE)
        self.going = start.closed & (self.at < 1.0)

    def go(self, least: float) -> None:
        """Try one step on every way that has not ended."""
        here = np.flatnonzero(self.going)
        to = np.minimum(self.at[here] + self.stride[here], 1.0)
        travel, roll = to * self.travel[here], to * self.roll[here]
        found = self.closure.balance(self.q[:, here], travel, roll, None, STEADY)
        moved = np.abs(found.q - self.q[:, here]).max(axis=0)
        good = found.closed & (found.steadiness <= STEADY) & (moved <= LONGEST)
        good[good] = self.closure.same_hand(found.q[:, good], travel[good], roll[good])
        ok, bad = here[good], here[~good]
        self.q[:, ok], self.at[ok] = found.q[:, good], to[good]
        self.stride[ok] *= GROWTH
        self.stride[bad] *= 0.5
        self.going[bad[self.stride[bad] < least]] = False
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
