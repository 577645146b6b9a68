"""A trunnion among its needles, in balance: where it goes under a load, and what each needle gets.

Frame K of the cap: e along the bore away from the cross centre, d the way that the trunnion
presses on the cap while the joint drives straight on, a along the shaft that the yoke belongs to,
away from the cross; origin in the middle of the needles. Slopes are small: how far a thing leans
toward d and a for each mm along e. A needle stands at an angle from d toward a.

What the needles store is convex in where the trunnion goes, so there is one balance, and Newton's
method with the exact second derivatives, cut short where it would climb, always finds it.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf, isfinite
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from geometry.errors import BindpointError
from sim.cocked.slices import POWER, Row, ways_of
from sim.frames import FloatArray, read_only

RESIDUAL: Final = 1e-11
"""Share of the load, and of the load on half a needle's length, at which Newton stops; 1e-9 is
promised."""

STEPS: Final = 60
"""Of Newton; half a dozen do, and some more where a cap is loose."""


class BalanceError(BindpointError, ArithmeticError):
    """Loads under which a cap finds no balance."""


@dataclass(frozen=True)
class Held:
    """How a seat holds its cap against being brought back by the needles.

    Attributes
    ----------
    stiffness : N mm a rad of tilt; endless for a cap that is held as it sits.
    loose : rad that it may rock toward d and toward a before it is held.
    """

    stiffness: float = inf
    loose: tuple[float, float] = (0.0, 0.0)

    def __post_init__(self) -> None:
        if not self.stiffness > 0.0:
            raise BalanceError(f"seat: got a stiffness of {self.stiffness}, expected above zero")
        if not all(isfinite(each) and each >= 0.0 for each in self.loose):
            raise BalanceError(f"seat: got {self.loose} rad of play, expected zero or more")

    @property
    def fast(self) -> bool:
        """Whether nothing brings the cap back."""
        return not isfinite(self.stiffness) and not any(self.loose)


FAST: Final = Held()
"""A cap that stays as its seat tips it."""


@dataclass(frozen=True, eq=False)
class Balance:
    """A row of needles under n loads.

    Attributes
    ----------
    moved : (n, 2) mm that the trunnion went in the cap, toward d and a.
    leans : (n, 2) slope of the trunnion in the cap.
    back : (n, 2) rad that the cap was brought back by its needles.
    force : (n, z, k) N of every slice of every needle.
    angle : (n, z) place of every needle from d toward a, rad.
    moment : (n, 2) N mm with which the needles lean the cap toward d and a.
    """

    moved: FloatArray
    leans: FloatArray
    back: FloatArray
    force: FloatArray
    angle: FloatArray
    moment: FloatArray


def balance(
    row: Row, load: ArrayLike, lean: ArrayLike, turned: ArrayLike = 0.0, held: Held = FAST
) -> Balance:
    """Find where a trunnion goes under each load, and what its needles carry.

    load : (n, 2) N with which the trunnion presses on the cap, toward d and a.
    lean : (2,) or (n, 2) slope of the trunnion in the cap as the seat would have it.
    turned : (n,) rad that the row has rolled on from where its first needle stands at d.
    held : how the seat holds the cap.

    Raises BalanceError where no balance is found, such as for a cap that nothing holds and nothing
    loads.
    """
    pull = np.atleast_2d(np.asarray(load, dtype=np.float64))
    first = np.broadcast_to(np.asarray(lean, dtype=np.float64), pull.shape)
    angle = row.angles + np.broadcast_to(np.asarray(turned, dtype=np.float64), len(pull))[:, None]
    loaded = np.hypot(pull[:, 0], pull[:, 1]) > 0.0
    freedom = 2 if held.fast else 4
    state = np.zeros((len(pull), 4))
    if loaded.any():
        state[loaded, :freedom] = _settled(
            row, pull[loaded], first[loaded], angle[loaded], held, freedom
        )
    moved, back = state[:, :2], state[:, 2:]
    leans = first - back
    force, _ = row.carried(moved, leans, angle)
    force = np.where(loaded[:, None, None], force, 0.0)
    moment: FloatArray = np.einsum("nzk,k,nzi->ni", force, row.along, ways_of(angle))
    return Balance(*map(read_only, (moved, leans, back, force, angle, moment)))


def _settled(
    row: Row, load: FloatArray, lean: FloatArray, angle: FloatArray, held: Held, freedom: int
) -> FloatArray:
    """Newton from the place of an even load; (n, freedom)."""
    size = np.hypot(load[:, 0], load[:, 1])
    whole = float(np.sum(row.stiffness))
    deep = (4.1 * size / len(row.angles) / whole) ** (1.0 / POWER) + 0.5 * row.clearance
    state = np.zeros((len(load), freedom))
    state[:, :2] = load / size[:, None] * deep[:, None]
    scale = np.ones((len(load), freedom)) * size[:, None]
    scale[:, 2:] *= 0.5 * row.needles.length
    for _ in range(STEPS):
        energy, slope, curve = _energy(row, load, lean, angle, held, state)
        if np.all(np.abs(slope) <= RESIDUAL * scale):
            return state
        # Enough to keep a row on one needle, free sideways, from being endlessly soft.
        ridge = 1e-12 * np.trace(curve, axis1=1, axis2=2)[:, None, None] * np.eye(freedom)
        step = np.linalg.solve(curve + ridge, -slope[:, :, None])[:, :, 0]
        state = _downhill(row, load, lean, angle, held, state, energy, slope, step)
    raise BalanceError(
        f"needles: no balance after {STEPS} steps under {float(size.max()):g} N; expected a cap "
        "that its seat holds"
    )


def _downhill(
    row: Row, load: FloatArray, lean: FloatArray, angle: FloatArray, held: Held,
    state: FloatArray, energy: FloatArray, slope: FloatArray, step: FloatArray,
) -> FloatArray:  # fmt: skip
    """Take a step, halved where it would not go down."""
    gain = np.einsum("ni,ni->n", slope, step)
    share = np.ones(len(state))
    for _ in range(40):
        there, _, _ = _energy(row, load, lean, angle, held, state + share[:, None] * step)
        # Near the end gains drown in the rounding of the energy, so a step so small is taken.
        bad = there > energy + 1e-4 * share * gain + 1e-13 * np.abs(energy)
        if not bad.any():
            break
        share = np.where(bad, 0.5 * share, share)
    return np.asarray(state + share[:, None] * step)


def _energy(
    row: Row, load: FloatArray, lean: FloatArray, angle: FloatArray, held: Held, state: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """What needles and seat store less what the load gives, N mm, and its first two derivatives.

    Returns (n,), (n, f), (n, f, f).
    """
    freedom = state.shape[1]
    back = state[:, 2:] if freedom == 4 else np.zeros((len(state), 2))
    force, approach = row.carried(state[:, :2], lean - back, angle)
    ways, x = ways_of(angle), row.along
    stiff = np.divide(POWER * force, approach, out=np.zeros_like(force), where=approach > 0.0)
    energy = np.sum(force * approach, axis=(1, 2)) / (POWER + 1.0)
    energy -= np.einsum("ni,ni->n", load, state[:, :2])
    slope = np.empty_like(state)
    slope[:, :2] = np.einsum("nzk,nzi->ni", force, ways) - load
    curve = np.empty((len(state), freedom, freedom))
    pairs = np.einsum("nzi,nzj->nzij", ways, ways)
    curve[:, :2, :2] = np.einsum("nz,nzij->nij", stiff.sum(axis=2), pairs)
    if freedom == 4:
        tilt = _dead(back, held.loose)
        energy = energy + 0.5 * held.stiffness * np.sum(tilt**2, axis=1)
        slope[:, 2:] = held.stiffness * tilt - np.einsum("nzk,k,nzi->ni", force, x, ways)
        mixed = -np.einsum("nz,nzij->nij", stiff @ x, pairs)
        curve[:, :2, 2:], curve[:, 2:, :2] = mixed, mixed
        own = held.stiffness * (tilt != 0.0)
        curve[:, 2:, 2:] = np.einsum("nz,nzij->nij", stiff @ x**2, pairs)
        curve[:, 2:, 2:] += own[:, :, None] * np.eye(2)
    return energy, slope, curve


def _dead(back: FloatArray, loose: tuple[float, float]) -> FloatArray:
    """What is left of a tilt past the play either way."""
    return np.asarray(np.sign(back) * np.maximum(np.abs(back) - np.array(loose), 0.0))
