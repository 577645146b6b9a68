"""Colours of the 3D view, those of the window around it."""

from dataclasses import replace
from functools import cache

from PyQt6.QtGui import QColor
from PyQt6.QtWidgets import QWidget

from sim.findings import Verdict
from viewer.draw.base import Colour
from viewer.scene.live.looks import DARK, LIGHT, Look
from viewer.window.kit import theme


def look_for(widget: QWidget) -> Look:
    """The look that suits a widget; the same object as long as nothing changes."""
    return _look(theme.is_dark(widget))


@cache
def _look(dark: bool) -> Look:
    colours = theme.DARK if dark else theme.LIGHT
    verdicts: dict[Verdict, Colour] = {
        verdict: _rgb(colour) for verdict, colour in colours.verdicts.items()
    }
    return replace(
        DARK if dark else LIGHT,
        ink=_rgb(colours.ink),
        paper=_rgb(colours.paper),
        verdicts=verdicts,
        accent=_rgb(colours.accent),
    )


def _rgb(text: str) -> Colour:
    colour = QColor(text)
    return colour.redF(), colour.greenF(), colour.blueF()
