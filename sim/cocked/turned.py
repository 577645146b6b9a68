"""A row of needles over a turn of the joint, on drive and on coast: loads, life, pressure map."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, pi
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from sim.cocked.balance import Balance, Held, balance
from sim.cocked.life import reference_life
from sim.cocked.seat import Seat
from sim.cocked.slices import Row
from sim.cocked.turning import CapTurn
from sim.frames import FloatArray, read_only

Way = Literal["drive", "coast"]

PLACES: Final = 360
"""Of the pressure map round the trunnion, every degree."""

FINER: Final = 4
"""Moments of the map for each that was worked out."""


@dataclass(frozen=True, eq=False)
class PressureMap:
    """The greatest pressure that comes over each place of a trunnion in a turn.

    Attributes
    ----------
    angle : (m,) rad from the middle of the side that carries on drive, toward the yoke's shaft.
    along : (k,) mm from the middle of the needles, outward.
    pressure : (m, k) MPa; nothing where no needle comes by.
    passed : (m,) whether a needle comes by: a small bend leaves places between them untouched.
    """

    angle: FloatArray
    along: FloatArray
    pressure: FloatArray
    passed: NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class RowTurned:
    """A row of needles over a turn of the joint each way.

    Attributes
    ----------
    row : its needles. turn : what the cap gets. ways : how they carry it, on drive and on coast.
    """

    row: Row
    turn: CapTurn
    ways: Mapping[Way, Balance]

    @property
    def force(self) -> FloatArray:
        """(2 n, z, k) N, drive before coast."""
        return np.concatenate([found.force for found in self.ways.values()])

    @property
    def greatest(self) -> float:
        """N on the worst slice."""
        return float(self.force.max())

    @property
    def life(self) -> float:
        """Reference life, weighed by how much the cap turns on its trunnion."""
        return reference_life(self.row, self.force, np.tile(self.turn.rolls, len(self.ways)))

    @property
    def peak(self) -> float:
        """Greatest pressure, MPa."""
        return float(self.row.pressure(self.force).max())

    @property
    def worst(self) -> tuple[FloatArray, FloatArray]:
        """Places (z,) on the trunnion, rad, and slices, (z, k) N, when the greatest is there."""
        way = max(self.ways.values(), key=lambda each: float(each.force.max()))
        moment = int(np.argmax(way.force.max(axis=(1, 2))))
        places = wrapped(way.angle[moment] - self.turn.swing[moment])
        return read_only(places), read_only(way.force[moment])

    @property
    def map(self) -> PressureMap:
        """Pressure over the places of the trunnion that a needle comes by in the turn."""
        row, swing = self.row, _finer(self.turn.swing)
        angle: FloatArray = (np.arange(PLACES, dtype=np.float64) + 0.5) * (2.0 * pi / PLACES) - pi
        # Against the trunnion, the needles roll back by this much; a place sees those that pass it.
        passed = _passed(row, angle, -0.5 * (1.0 + row.needles.gamma) * swing)
        most = np.zeros((PLACES, row.count))
        for each in self.ways.values():
            moved, leans = _finer(each.moved), _finer(each.leans)
            force, _ = row.carried(moved, leans, angle + swing[:, None])
            most = np.maximum(most, (force * passed[:, :, None]).max(axis=0))
        pressure = read_only(row.pressure(most))
        return PressureMap(read_only(angle), row.along, pressure, np.asarray(passed.any(axis=0)))


def row_turned(row: Row, seat: Seat, turn: CapTurn, held: Held) -> RowTurned:
    """Turn a row whose cap sits so, once each way; `held` against being brought back."""
    rolled = turn.swing * 0.5 * (1.0 - row.needles.gamma)
    ways: dict[Way, Balance] = {
        "drive": balance(row, turn.load(), -np.array(seat.drive), rolled, held),
        "coast": balance(row, turn.load(drives=False), -np.array(seat.coast), rolled, held),
    }
    return RowTurned(row, turn, ways)


def _finer(values: FloatArray) -> FloatArray:
    """Values (n, ...) over a turn at FINER times as many moments, straight between."""
    share = (np.arange(FINER) / FINER).reshape(-1, *[1] * (values.ndim - 1))
    ahead = np.roll(values, -1, axis=0)
    between = values[:, None] + share * (ahead - values)[:, None]
    return np.asarray(between.reshape(-1, *values.shape[1:]))


def _passed(row: Row, angle: FloatArray, rolled: FloatArray) -> NDArray[np.bool_]:
    """(n, m) whether a needle comes over a place between half a moment before and after."""
    before, after = (0.5 * (rolled + np.roll(rolled, shift)) for shift in (1, -1))
    low, high = np.minimum(before, after), np.maximum(before, after)
    low, high = np.minimum(low, rolled), np.maximum(high, rolled)
    near = pi / len(angle)
    gap = np.full((len(rolled), len(angle)), inf)
    for needle in row.angles:
        off = wrapped(angle[None, :] - needle - 0.5 * (low + high)[:, None])
        gap = np.minimum(gap, np.abs(off) - 0.5 * (high - low)[:, None])
    return np.asarray(gap <= near)


def wrapped(angle: FloatArray) -> FloatArray:
    """Between minus and plus half a turn."""
    return np.asarray((np.asarray(angle) + pi) % (2.0 * pi) - pi)
