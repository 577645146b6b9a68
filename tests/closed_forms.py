"""Closed forms that the tests hold the program to: the tan law of a joint, a head as a chain."""

import numpy as np

from sim.cardan import Chain, chain
from sim.head.bend import Head


def lead(angle, bend):
    """Turn of the driven shaft less the driving one, rad: tan(driven) cos(bend) = tan(angle)."""
    s, c = np.sin(angle), np.cos(angle)
    return np.arctan2(s * c * (1.0 - np.cos(bend)), c * c * np.cos(bend) + s * s)


def speed_ratio(angle, bend):
    """Speed of the driven shaft over that of the driving shaft [CARVILL, 2.4.3]."""
    return np.cos(bend) / (1.0 - np.sin(bend) ** 2 * np.cos(angle) ** 2)


def greatest_lead(bend):
    """Greatest lead (rad), where tan(angle)^2 = cos(bend)."""
    c = np.cos(bend)
    return np.arctan((1.0 - c) / (2.0 * np.sqrt(c)))


def equal_head(span, bend, limit):
    """The head whose two crosses bend equally at `bend` (rad): 2 ball cos(bend / 2) = span."""
    return Head(span, float(0.5 * span / np.cos(0.5 * bend)), limit)


def head_axes(first, second):
    """Directions (3, 3) of driving yoke, center yoke and driven yoke along the flow of power."""
    turns = np.array([0.0, first, first + second])
    return np.stack([np.cos(turns), np.sin(turns), np.zeros(3)], axis=-1)


def head_chain(head: Head, bend: float, carrying_drives: bool = True) -> Chain:
    """Turning of a head's far outer yoke over one even turn of the near one."""
    split = head.split(bend)
    bends = (split.fixed, split.sliding) if carrying_drives else (split.sliding, split.fixed)
    return chain(head_axes(*bends))
