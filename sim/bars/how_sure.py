"""Error bars of a check: at once by slopes, then in full by many rigs drawn at random."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from geometry.errors import BindpointError
from sim.accuracy.source import Source
from sim.accuracy.sources import sources_of
from sim.assessment import Assessment
from sim.bars import again
from sim.bars.done import done
from sim.bars.doubts import doubts_of
from sim.bars.drawn import Drawn
from sim.bars.draws import normal_draws
from sim.bars.kept import place_of, read_bars, write_bars
from sim.bars.model import Model
from sim.bars.result import Bars, How
from sim.bars.sample import Sample
from sim.bars.slopes import Slopes, slopes
from sim.bars.summary import summary
from sim.bars.verified import forecast_off, put_right, to_sweep
from sim.bench.shape import Shape
from sim.progress import Progress, silent
from sim.vehicle import Joint

DRAWS: Final = 256
"""Rigs drawn for full bars."""

SHAPES: Final = 0.5
"""Share of the work that the shapes of the joints take, where none is kept."""

BEFORE_AGAIN: Final = 0.8
"""Share of the work that is behind when it is asked what to read again."""

FIRST, BRIEF = 0, -1
"""What a first look is kept under in place of a number of whole rigs: all of it, and without what
to read again."""

BY_SLOPES: Final = 16384
"""Draws by slopes alone, which cost next to nothing."""


class BarsError(BindpointError, ValueError):
    """A rig of which nothing can be off as it is said to be."""


def first_bars(
    found: Assessment,
    seed: int = 0,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
    ask_again: bool = True,
) -> Bars:
    """Error bars by slopes alone, within seconds of a check.

    sources, shapes : what may be off; left out, all that the rig says, and its joints at a first
        look.
    ask_again : whether it is asked what to read again, which takes as long as all the rest.
    """
    progress("how sure: a first look", 0.0)
    place = place_of(found, seed, FIRST if ask_again else BRIEF, sources, shapes)
    told = read_bars(place)
    if told is None:
        told = _at_a_look(_model(found, sources, shapes, "first", progress), seed, ask_again)
        write_bars(place, told)
    return told


def _at_a_look(model: Model, seed: int, ask_again: bool) -> Bars:
    linear = slopes(model)
    told = summary(model, Sample(_by_slopes(model, linear, seed)), "first", seed)
    return replace(told, again=again.first_look(model, linear, seed)) if ask_again else told


def bars(
    found: Assessment,
    seed: int = 0,
    draws: int = DRAWS,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
) -> Bars:
    """Error bars in full, on all cores; the same for the same seed, to the byte, and kept.

    Raises BarsError where no rig can be whose numbers are off so far.
    """
    place = place_of(found, seed, draws, sources, shapes)
    told = read_bars(place)
    if told is None:
        model = _model(found, sources, shapes, "full", progress)
        told = _in_full(model, seed, draws, progress)
        write_bars(place, told)
    return told


def kept_bars(found: Assessment, seed: int = 0, draws: int = DRAWS) -> Bars | None:
    """Full bars that were found before; None where none were."""
    return read_bars(place_of(found, seed, draws))


def _in_full(model: Model, seed: int, draws: int, progress: Progress) -> Bars:
    progress("how sure: slopes", SHAPES)
    linear, z = slopes(model), normal_draws(len(model.keys), draws, seed)
    same = model.judged(z, linear.moved(z))
    numbers = to_sweep(same)
    looked, swept = done(model, z, z[numbers], progress, (SHAPES, BEFORE_AGAIN))
    moved = model.put_right(looked)
    drawn = model.judged(z, moved)
    if not drawn.possible.any():
        came = f"came {draws} rigs with numbers off of which none can be"
        raise BarsError(f"rig: {came}, expected some")
    whole = model.judged(z, put_right(moved, numbers, swept))
    sample = Sample(
        slopes=_by_slopes(model, linear, seed),
        whole=whole,
        same=same,
        forecast_off=forecast_off(model, drawn, whole),
    )
    told = summary(model, sample, "full", seed)
    return replace(told, again=again.in_full(model, linear, seed, progress, (BEFORE_AGAIN, 1.0)))


def _by_slopes(model: Model, linear: Slopes, seed: int) -> Drawn:
    z = normal_draws(len(model.keys), BY_SLOPES, seed)
    return model.judged(z, linear.moved(z))


def _model(
    found: Assessment,
    sources: Sequence[Source] | None,
    shapes: Mapping[Joint, Shape] | None,
    how: How,
    progress: Progress,
) -> Model:
    """A model of what was given, or of all that the rig says."""
    if shapes is None:
        doubts = doubts_of(found.rig, found.joints, how, lambda w, s: progress(w, SHAPES * s))
        shapes = doubts.shapes
    if sources is None:
        sources = sources_of(found.rig)
    return Model(found, tuple(sources), dict(shapes))
