"""Colours, marks and sizes of the window: calm paper and ink, and verdicts nobody mixes up.

A verdict is told three times: by its colour, by the shape of its mark and by its word. The colours
differ in lightness too, so that they survive black-and-white print, and lie apart for people who do
not see red or green; tests hold them to it.
"""

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from types import MappingProxyType

from PyQt6.QtCore import QLineF, QPointF, QRectF, Qt
from PyQt6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QGuiApplication,
    QPainter,
    QPalette,
    QPen,
    QPolygonF,
)
from PyQt6.QtWidgets import QApplication, QStyleFactory, QWidget

from sim.findings import Verdict
from viewer.draw.verdict_mark import MARKS, ON_DARK, ON_LIGHT


@dataclass(frozen=True)
class Colours:
    """One set of colours, hex.

    Attributes
    ----------
    dark : whether it is the set for dark surroundings.
    window, paper, raised : behind panels; behind what is read or typed; buttons.
    line, grid : borders of controls; thin lines inside charts.
    ink, quiet : words; words that matter less.
    accent, on_accent : what is chosen or has the focus, and words on it.
    verdicts : each can be read as text on `window`, `paper` and `raised`.
    washes : pale grounds for areas of a verdict; `ink` can be read on them.
    """

    dark: bool
    window: str
    paper: str
    raised: str
    line: str
    grid: str
    ink: str
    quiet: str
    accent: str
    on_accent: str
    verdicts: Mapping[Verdict, str]
    washes: Mapping[Verdict, str]


_PAIRS = {
    "window": ("#f1f0ec", "#24272b"),
    "paper": ("#ffffff", "#1a1d20"),
    "raised": ("#f8f7f4", "#2c3035"),
    "line": ("#85827a", "#7d838a"),
    "grid": ("#d5d2ca", "#3d4248"),
    "ink": ("#1f2326", "#eceae4"),
    "quiet": ("#565b60", "#b0b4b8"),
    "accent": ("#34548a", "#8fb1ea"),
    "on_accent": ("#ffffff", "#10151c"),
}
"""Every plain colour in light and in dark surroundings."""

_WASHES: Mapping[Verdict, tuple[str, str]] = {
    "clear": ("#dcefed", "#0f302e"),
    "close": ("#f2d898", "#5c4710"),
    "touches": ("#dfa39d", "#6d231d"),
}


def _set(dark: bool) -> Colours:
    plain = {name: pair[dark] for name, pair in _PAIRS.items()}
    washes = MappingProxyType({verdict: pair[dark] for verdict, pair in _WASHES.items()})
    return Colours(dark, verdicts=ON_DARK if dark else ON_LIGHT, washes=washes, **plain)


LIGHT, DARK = _set(dark=False), _set(dark=True)


def is_dark(widget: QWidget | None = None) -> bool:
    """Whether a widget, or else the program, has light words on dark ground."""
    palette = widget.palette() if widget is not None else QGuiApplication.palette()
    ground = palette.color(QPalette.ColorRole.Window)
    words = palette.color(QPalette.ColorRole.WindowText)
    return ground.lightnessF() < words.lightnessF()


def colours(widget: QWidget | None = None) -> Colours:
    """The set that suits a widget, or else the program."""
    return DARK if is_dark(widget) else LIGHT


def palette_of(look: Colours) -> QPalette:
    """Palette of Qt for a set of colours."""
    role = QPalette.ColorRole
    palette = QPalette(QColor(look.raised), QColor(look.window))
    for place, colour in {
        role.Window: look.window,
        role.WindowText: look.ink,
        role.Base: look.paper,
        role.AlternateBase: look.window,
        role.Text: look.ink,
        role.Button: look.raised,
        role.ButtonText: look.ink,
        role.BrightText: look.ink,
        role.ToolTipBase: look.raised,
        role.ToolTipText: look.ink,
        role.PlaceholderText: look.quiet,
        role.Highlight: look.accent,
        role.HighlightedText: look.on_accent,
        role.Link: look.accent,
        role.LinkVisited: look.accent,
    }.items():
        palette.setColor(place, QColor(colour))
    faded = QColor(look.line)
    for place in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, place, faded)
    return palette


def dress(program: QApplication, dark: bool | None = None) -> None:
    """Give the program its look: light, dark, or as the system has it now and later (None)."""
    hints = QGuiApplication.styleHints()
    if hints is not None:
        with suppress(TypeError):  # said where it was not connected
            hints.colorSchemeChanged.disconnect(_follow)
        if dark is None:
            hints.colorSchemeChanged.connect(_follow)
            dark = hints.colorScheme() == Qt.ColorScheme.Dark
    if style := QStyleFactory.create("Fusion"):
        program.setStyle(style)
    program.setPalette(palette_of(DARK if dark else LIGHT))


def _follow(scheme: Qt.ColorScheme) -> None:
    QGuiApplication.setPalette(palette_of(DARK if scheme == Qt.ColorScheme.Dark else LIGHT))


def em(widget: QWidget) -> float:
    """Height of a line of the widget's type, px: the unit for sizes beside words."""
    return QFontMetricsF(widget.font()).height()


def enlarged(font: QFont, factor: float, bold: bool = False) -> QFont:
    """A font that many times as large, however its size was given."""
    larger = QFont(font)
    if font.pointSizeF() > 0.0:
        larger.setPointSizeF(font.pointSizeF() * factor)
    else:
        larger.setPixelSize(max(1, round(font.pixelSize() * factor)))
    larger.setBold(bold)
    return larger


def paint_mark(
    painter: QPainter, rect: QRectF, verdict: Verdict, look: Colours | None = None
) -> None:
    """Paint the mark of a verdict as large as fits: a dot, a triangle, a crossed square.

    `look` is that of the widget painted on unless it is given.
    """
    if look is None:
        device = painter.device()
        look = colours(device if isinstance(device, QWidget) else None)
    side = min(rect.width(), rect.height())
    mark, ends = MARKS[verdict], Qt.PenCapStyle
    ground = QPen(QColor(look.paper), MARKS[verdict].width)
    ground.setCapStyle(ends.RoundCap if mark.round_ends else ends.FlatCap)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(rect.center() - QPointF(0.5, 0.5) * side)
    painter.scale(side, side)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(look.verdicts[verdict]))
    painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in mark.body]))
    painter.setPen(ground)
    for start, end in mark.cuts:
        painter.drawLine(QLineF(*start, *end))
    painter.restore()
