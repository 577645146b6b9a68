"""Colours, pens and letters of the live view."""

from collections.abc import Mapping
from dataclasses import dataclass

from sim.findings import Verdict
from viewer.draw.base import BLACK, WHITE, Colour, Letters, Paint, Pen, Plate
from viewer.draw.verdict_mark import ON_DARK, ON_LIGHT, rgb

SIZE = 16.0
"""Height of words, px: one for all, so that none looks weightier than its frame makes it."""


@dataclass(frozen=True)
class Look:
    """How the live view looks; words and lines stand out from the backdrop.

    sky, floor : upper and lower edge of the backdrop. ink : words and lines. paper : behind words.
    verdicts : colour of each verdict. accent : of what is chosen.
    """

    sky: Colour
    floor: Colour
    ink: Colour
    paper: Colour
    verdicts: Mapping[Verdict, Colour]
    accent: Colour = (0.20, 0.33, 0.54)

    def letters(self, size: float, bold: bool = False) -> Letters:
        """Words in ink."""
        return Letters(size, bold, self.ink)

    @property
    def neutral(self) -> Colour:
        """Of what has no verdict."""
        red, green, blue = (0.5 * (a + b) for a, b in zip(self.ink, self.paper, strict=True))
        return red, green, blue

    @property
    def plate(self) -> Plate:
        """Behind words."""
        return Plate(self.paper, 0.86)

    def edged(self, colour: Colour) -> Plate:
        """Behind words that always have to be seen."""
        return Plate(self.paper, 0.92, colour)

    def framed(self, verdict: Verdict) -> Plate:
        """Behind words on a verdict."""
        return self.edged(self.verdicts[verdict])


def _rgbs(colours: Mapping[Verdict, str]) -> dict[Verdict, Colour]:
    return {verdict: rgb(colour) for verdict, colour in colours.items()}


LIGHT = Look((0.93, 0.945, 0.955), (0.80, 0.825, 0.845), BLACK, WHITE, _rgbs(ON_LIGHT))

DARK = Look(
    (0.235, 0.25, 0.27),
    (0.13, 0.14, 0.155),
    (0.94, 0.94, 0.92),
    (0.10, 0.11, 0.12),
    _rgbs(ON_DARK),
)

EDGE = Pen((0.10, 0.10, 0.11), 1.0)
"""The sharp corners of a machined part."""

GHOST = Paint((0.16, 0.36, 0.66), 0.2, opacity=0.16, glow=0.5)
GHOST_EDGE = Pen((0.16, 0.36, 0.66), 1.2)
"""The version put aside."""
