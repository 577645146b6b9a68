"""Which motion of the housing a set of links leaves free, and which it holds only weakly."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np

from sim.frames import FloatArray
from sim.suspension.links.rows import UNKNOWNS, Rows

MOTIONS: Final[Mapping[str, str]] = {
    "x": "fore-aft",
    "y": "sideways",
    "pitch": "turning nose up and down",
    "yaw": "steering, one wheel ahead of the other",
}

HELPS: Final[Mapping[str, str]] = {
    "x": "links that run fore-aft",
    "y": "a track bar, a wishbone, or upper or lower links set at an angle",
    "pitch": "an upper link, a torque arm or radius arms",
    "yaw": "a link on each side",
}

NAMED: Final = 0.5
"""Part of a free motion that is named: at least half as large as its largest."""


@dataclass(frozen=True)
class Loose:
    """A motion of the housing that the links do not hold, or hardly."""

    hold: float
    """How well it is held: what a move of 1 mm stretches the links, mm; 0 is free. A link square
    to the motion holds it with 0, one along it with 1."""
    motion: tuple[float, float, float, float]
    """Forward and left (mm), pitch and yaw (as mm at 500 mm), of length one."""

    @property
    def parts(self) -> tuple[str, ...]:
        """The unknowns that it consists of, the largest first."""
        size = np.abs(self.motion)
        order = [int(i) for i in np.argsort(-size, kind="stable")]
        return tuple(UNKNOWNS[i] for i in order if size[i] >= NAMED * size.max())

    @property
    def says(self) -> str:
        """The motion in words."""
        return " together with ".join(MOTIONS[part] for part in self.parts)

    @property
    def help(self) -> str:
        """What usually holds it."""
        return HELPS[self.parts[0]]


def loosest(rows: Rows) -> tuple[Loose, ...]:
    """The four independent motions at ride height, the worst held first."""
    still = np.zeros(1)
    _, J = rows(np.zeros((4, 1)), still, still)
    matrix: FloatArray = J[:, :, 0].T
    padded = np.vstack([matrix, np.zeros((max(0, 4 - len(matrix)), 4))])
    _, hold, motions = np.linalg.svd(padded, full_matrices=False)
    return tuple(
        Loose(float(s), _motion(motion))
        for s, motion in zip(hold[::-1], motions[::-1], strict=True)
    )


def _motion(values: FloatArray) -> tuple[float, float, float, float]:
    x, y, pitch, yaw = values.tolist()
    return x, y, pitch, yaw
