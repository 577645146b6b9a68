"""The shape of a joint as far as it is known: at once by straight lines, or from a library."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from sim.bench.both_cores import AllCores
from sim.bench.curves import NotKeptError, library
from sim.bench.first import first_shape, middle_of
from sim.bench.fit import fitted_joint
from sim.bench.fitted_shape import FittedShape
from sim.bench.forecast import learnt
from sim.bench.free import doubt_of
from sim.bench.learnt_shape import LearntShape
from sim.bench.shape import Shape
from sim.rig import Rig
from sim.vehicle import Joint

How = Literal["first", "full"]
"""How well a shape is known: by straight lines from its middle, in about a second; or from a
library of shapes, in some ten seconds, kept after."""


def shape_of(
    rig: Rig,
    joint: Joint,
    how: How,
    together: AllCores,
    progress: Callable[[float], None] | None = None,
) -> Shape | None:
    """What is known of the shape of a joint, told as touch.

    how : "first" or "full"; a library that is kept is used for both.
    together : who works at what is not kept.
    progress : told the share that is done, 0 to 1.

    None where no dimension is in doubt: of a double-Cardan head, whose dimensions are left out of
    all bars, and of two yokes that both came from mesh files.

    Raises BindpointError for names that are not in the catalogue and dimensions that make no sound
    part.
    """
    doubt = doubt_of(rig, joint)
    if doubt is None:
        return None
    gap = rig.wanted.gap.mm
    fitted = fitted_joint(rig, joint, progress)
    if fitted is not None:
        return FittedShape.of(fitted, gap)
    try:
        known = library(doubt, progress, together=together, make=how == "full")
    except NotKeptError:
        return first_shape(doubt, gap, together)
    clear, keeps = middle_of(doubt, gap)
    return LearntShape(known, learnt(known), clear - keeps)
