"""Error bars of a check: at once by slopes, then in full by many rigs drawn at random."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars.draws import normal_draws
from sim.bars.model import Model
from sim.bars.result import Bars
from sim.bars.slopes import slopes
from sim.bars.summary import summary
from sim.bench.shape import Shape
from sim.progress import Progress, silent
from sim.vehicle import Joint

DRAWS: Final = 2048
"""Rigs drawn for full bars."""

BY_SLOPES: Final = 4096
"""Draws by slopes alone, which cost next to nothing."""


def first_bars(
    found: Assessment,
    seed: int = 0,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
) -> Bars:
    """Error bars by slopes alone, within seconds of a check.

    sources, shapes : what may be off; left out, all that the rig says, and its joints at a first
        look.
    """
    model = _model(found, sources, shapes)
    progress("how sure: a first look", 0.0)
    z = normal_draws(len(model.keys), BY_SLOPES, seed)
    drawn = model.judged(z, slopes(model).moved(z))
    return summary(model, drawn, "first", seed)


def bars(
    found: Assessment,
    seed: int = 0,
    draws: int = DRAWS,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
) -> Bars:
    """Error bars in full, on all cores; the same for the same seed, to the byte, and kept."""
    model = _model(found, sources, shapes)
    progress("how sure: drawing rigs", 0.0)
    drawn = model.drawn(normal_draws(len(model.keys), draws, seed))
    return summary(model, drawn, "full", seed)


def kept_bars(found: Assessment, seed: int = 0) -> Bars | None:
    """Full bars that were found before; None where none were."""
    _ = found, seed
    return None


def _model(
    found: Assessment,
    sources: Sequence[Source] | None,
    shapes: Mapping[Joint, Shape] | None,
) -> Model:
    return Model(found, tuple(sources or ()), dict(shapes or {}))
