"""Error bars of a check: at once by slopes, then in full by many rigs drawn at random."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from sim.accuracy.source import Source
from sim.assessment import Assessment
from sim.bars.result import Bars
from sim.bench.shape import Shape
from sim.progress import Progress, silent
from sim.vehicle import Joint

DRAWS: Final = 2048
"""Rigs drawn for full bars."""


def first_bars(
    found: Assessment,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
) -> Bars:
    """Error bars by slopes alone, within seconds of a check.

    sources, shapes : what may be off; left out, all that the rig says, and its joints at a first
        look.
    """
    raise NotImplementedError


def bars(
    found: Assessment,
    seed: int = 0,
    draws: int = DRAWS,
    sources: Sequence[Source] | None = None,
    shapes: Mapping[Joint, Shape] | None = None,
    progress: Progress = silent,
) -> Bars:
    """Error bars in full, on all cores; the same for the same seed, to the byte, and kept."""
    raise NotImplementedError


def kept_bars(found: Assessment, seed: int = 0) -> Bars | None:
    """Full bars that were found before; None where none were."""
    _ = found, seed
    return None
