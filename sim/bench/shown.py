"""The yokes that stand for a fitted joint: the likeliest, built and proved clear."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from geometry.contact.touch import TouchCurve
from geometry.errors import BindpointError
from geometry.yoke import Yoke, YokeShape
from sim.accuracy.source import SURE
from sim.bench.agreement import Agreement
from sim.bench.evidence import Evidence, Predict
from sim.bench.free import Doubt, YokePair
from sim.bench.nearest import nearest
from sim.bench.outlook import LOWEST
from sim.bench.readings import Told
from sim.bench.turned import Lines
from sim.frames import FloatArray
from sim.kept.touch_curves import cached_touch

MIDDLE: Final = np.radians(0.1)
"""rad. How near its lowest touch is held to the middle of what it may be: 95 of 100."""

ROUNDS: Final = 3
"""Times they are sought, at most: where they touch elsewhere than was forecast, they are sought
anew with the forecast put right there."""

NUDGE: Final = 1e-3
"""mm. Enough to see what moves with a dimension."""

IDLE: Final = 0.05
"""Deviations. A dimension that the readings pull by less stays as it was."""


@dataclass(frozen=True)
class Shown:
    """The yokes shown.

    z : (d,) their draw. pair : what they are built from. curve : their certified touch curve.
    replaced : whether they touched farther from the forecast than it is off, and were sought anew.
    """

    z: FloatArray
    pair: YokePair
    curve: TouchCurve
    replaced: bool


def shown(by: Agreement, counted: tuple[int, ...], draws: FloatArray) -> Shown:
    """The likeliest yokes with their lowest touch in the middle of that of all that agree.

    by : the readings and the forecast. counted : the readings that count, by their places from 0.
    draws : (n, d + p) joints that agree with them.

    What a tape is held to and a tube is cut by stays where it is: nobody reads that off a touch.
    """
    doubt, evidence = by.outlook.known.doubt, by.evidence.only(list(counted))
    asked = (*(by.read[place] for place in counted), LOWEST)
    forecast = by.outlook.readings(asked)
    goal = Evidence(
        np.append(evidence.read, np.median(by.lowest(draws))),
        np.append(evidence.deviation, MIDDLE / SURE),
        np.append(evidence.clear, False),
    )
    moves, shapes = ~_held(doubt), by.shapes(draws)
    starts = np.vstack([np.zeros(len(moves)), shapes[np.argsort((shapes**2).sum(axis=1))[:2]]])
    off = np.array([by.error(each.place, draws).mean() for each in asked])
    near = np.append(SURE * evidence.deviation, MIDDLE)
    far = np.array([by.outlook.off_at(each.place) for each in asked])
    missed = 0.0
    found: list[tuple[float, Shown]] = []
    for _ in range(ROUNDS):

        def predict(z: FloatArray, off: FloatArray = off) -> FloatArray:
            return forecast(z) + off

        z = _likeliest(predict, goal, moves, starts)
        z, pair, curve = _built(doubt, z)
        real = _read_on(curve, asked)
        misfit = float(np.square(goal.off(real[None])).sum() + z @ z)
        away = np.abs(real - predict(z[None])[0])
        missed = max(missed, float((away / far).max()))
        found.append((misfit, Shown(z, pair, curve, missed > 1.0)))
        if (away <= near).all():
            break
        off = real - forecast(z[None])[0]
    return min(found, key=lambda each: each[0])[1]


def _likeliest(
    predict: Predict, goal: Evidence, moves: NDArray[np.bool_], starts: FloatArray
) -> FloatArray:
    """The draw (d,) nearest to the goal of which some dimensions move; idle ones not at all."""
    count, z = len(moves), np.zeros(len(moves))
    for _ in range(2):
        columns = np.flatnonzero(moves)

        def whole(z: FloatArray, columns: NDArray[np.intp] = columns) -> FloatArray:
            every = np.zeros((len(z), count))
            every[:, columns] = z
            return every

        def few(z: FloatArray, whole: Predict = whole) -> FloatArray:
            return predict(whole(z))

        z = whole(nearest(few, goal, starts[:, columns]).z[None])[0]
        moves = moves & (np.abs(z) >= IDLE)
    return z


def _built(doubt: Doubt, z: FloatArray) -> tuple[FloatArray, YokePair, TouchCurve]:
    """The yokes of a draw with their curve, the draw halved until they can be built."""
    while True:
        pair, drawn = doubt.pair_at(z)
        try:
            return drawn, pair, cached_touch(pair.key, pair.closing)
        except BindpointError:
            if not z.any():
                raise
            z = np.where(np.abs(z) > IDLE, 0.5 * z, 0.0)


def _read_on(curve: TouchCurve, asked: tuple[Told, ...]) -> FloatArray:
    """What would be read (r,), rad, on a joint with this curve."""
    lines, touch = Lines.of(curve)
    lowest = np.array([min(curve.touch_min, curve.limit)])
    return np.array([each.shown(lines, touch, lowest)[0] for each in asked])


def _held(doubt: Doubt) -> NDArray[np.bool_]:
    """Which dimensions (d,) a tape is held to or a tube is cut by."""
    by_yoke = dict(zip(doubt.yokes, (doubt.pair.driving, doubt.pair.driven), strict=True))
    return np.array([_places(by_yoke[each.yoke], each.name) for each in doubt.free])


def _places(yoke: YokeShape | Yoke, name: str) -> bool:
    """Whether a dimension moves a face that something is measured from."""
    if isinstance(yoke, Yoke):
        return False
    try:
        moved = replace(yoke, **{name: getattr(yoke, name) + NUDGE})
    except BindpointError:
        moved = replace(yoke, **{name: getattr(yoke, name) - NUDGE})
    return _measured(moved) != _measured(yoke)


def _measured(yoke: YokeShape) -> tuple[object, ...]:
    return yoke.tube_from, yoke.seat, yoke.barrel, dict(yoke.datums), yoke.bolt_ring
