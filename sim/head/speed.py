"""How unevenly a head turns the shaft: what its unequal halves leave, exactly.

The bores of a centre yoke are parallel and both crosses bend in one plane, so two equal bends
cancel altogether. How the centring geometry splits the bend (`sim.head.bend`) decides what is left
at any other one.
"""

import numpy as np
from numpy.typing import ArrayLike

from sim.cardan import Chain, chain
from sim.frames import FloatArray
from sim.head.bend import Head


def head_axes(first: ArrayLike, second: ArrayLike) -> FloatArray:
    """Directions (..., 3, 3) of driving yoke, centre yoke and driven yoke along the flow.

    first, second : (...) rad, bends at the two crosses as the power meets them
    """
    f, g = np.broadcast_arrays(np.asarray(first, float), np.asarray(second, float))
    turns = np.stack([np.zeros_like(f), f, f + g], axis=-1)
    axes: FloatArray = np.stack([np.cos(turns), np.sin(turns), np.zeros_like(turns)], axis=-1)
    return axes


def head_running(head: Head, bend: float, carrying_drives: bool = True) -> Chain:
    """Give the turning of the far outer yoke over one even turn of the near one, exactly.

    bend : rad, of the whole head
    carrying_drives : whether the yoke with the ball is the one nearer the engine
    """
    split = head.split(bend)
    bends = (split.fixed, split.sliding) if carrying_drives else (split.sliding, split.fixed)
    return chain(head_axes(*bends))


def speed_swing(turning: Chain) -> float:
    """Greatest less least speed ratio over a turn."""
    return float(np.ptp(turning.speed_ratio))
