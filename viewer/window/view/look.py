"""Colours of the 3D view, those of the window around it."""

from dataclasses import replace
from functools import cache

from PyQt6.QtWidgets import QWidget

from viewer.draw.verdict_mark import rgb
from viewer.live.looks import DARK, LIGHT, Look
from viewer.window.kit import theme


def look_for(widget: QWidget) -> Look:
    """The look that suits a widget; the same object as long as nothing changes."""
    return _look(theme.is_dark(widget))


@cache
def _look(dark: bool) -> Look:
    colours = theme.DARK if dark else theme.LIGHT
    return replace(
        DARK if dark else LIGHT,
        ink=rgb(colours.ink),
        paper=rgb(colours.paper),
        accent=rgb(colours.accent),
    )
