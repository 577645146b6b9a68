"""Draws looked at, and some of them swept whole, on every core there is."""

from __future__ import annotations

import pickle
from typing import Final

import numpy as np

from sim.bars.look import NUMBERS
from sim.bars.model import Model
from sim.bars.rigs import Part, Rigs
from sim.bench.both_cores import done_by_all
from sim.frames import FloatArray
from sim.progress import Progress

TOGETHER: Final = 16
"""Draws that are looked at in one part: about as much work as a whole sweep."""

NEAR_SWEPT: Final = 4
"""Of the draws that are swept whole, those in which things near the shaft are too: they take
longest."""


def done(
    model: Model, z: FloatArray, whole: FloatArray, progress: Progress, between: tuple[float, float]
) -> tuple[FloatArray, FloatArray]:
    """Looks (n, looked at, `NUMBERS`) at draws `z` (n, k), and sweeps (m, looked at) of others.

    whole : (m, k) draws that are swept whole.
    between : share of all the work that is behind before, and after.
    """
    clear = {joint: each.clear for joint, each in model.limits(z).items()}
    starts = range(0, len(z), TOGETHER)
    parts = [
        Part(z[at : at + TOGETHER], {j: each[at : at + TOGETHER] for j, each in clear.items()})
        for at in starts
    ]
    parts += [Part(each[None], {}, True, place < NEAR_SWEPT) for place, each in enumerate(whole)]
    before, after = between
    rows: list[FloatArray] = [np.empty(0)] * len(parts)
    for count, (number, row) in enumerate(done_by_all(model.rigs.done, parts, _cores(model.rigs))):
        rows[number] = row
        progress("how sure: drawing rigs", before + (after - before) * (count + 1) / len(parts))
    looks, sweeps = rows[: len(starts)], rows[len(starts) :]
    none = np.empty((0, len(model.looked_at), NUMBERS))
    return np.concatenate([none, *looks]), np.concatenate([none[..., 0], *sweeps])


def _cores(rigs: Rigs) -> int | None:
    """One where what puts a source off cannot be sent to another process; else all there are."""
    try:
        pickle.dumps(rigs)
    except (pickle.PicklingError, AttributeError, TypeError):
        return 1
    return None
