"""How what is drawn looks: colours, paints, pens, letters, and the plates behind words."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Colour = tuple[float, float, float]
"""Red, green, blue, each 0 to 1."""

Image = NDArray[np.uint8]

BLACK: Colour = (0.0, 0.0, 0.0)
WHITE: Colour = (1.0, 1.0, 1.0)


def grey_of(colour: Colour) -> Colour:
    """The grey that takes the place of a colour: as light, but a little paler.

    Lightness by the usual weights of red, green and blue on a screen (from memory).
    """
    light = sum(share * part for share, part in zip(_WEIGHTS, colour, strict=True))
    paler = (1.0 - PALER) * light + PALER * PALE
    return paler, paler, paler


_WEIGHTS = 0.2126, 0.7152, 0.0722
PALER, PALE = 0.25, 0.62
"""How far a grey is drawn to a pale one, and that one."""


@dataclass(frozen=True)
class Paint:
    """How a solid looks: its colour, how it shines (0 dull to 1 polished), how dense it is."""

    colour: Colour
    shine: float = 0.5
    opacity: float = 1.0
    glow: float = 0.0
    """Share of its light that does not depend on the lamps: 1 shows the bare colour."""
    edge: float = 1.0
    """How many times broader than usual its sharp corners are drawn."""


@dataclass(frozen=True)
class Pen:
    """Colour and width (px) of a line."""

    colour: Colour = BLACK
    width: float = 2.0


@dataclass(frozen=True)
class Letters:
    """How words are written: height of the type in px, weight, colour, where they hang."""

    size: float
    bold: bool = False
    colour: Colour = BLACK
    align: Literal["left", "right", "middle"] = "left"


@dataclass(frozen=True)
class Plate:
    """A plate behind words, so that they stand out from whatever is behind them."""

    colour: Colour
    opacity: float = 0.9
    frame: Colour | None = None
