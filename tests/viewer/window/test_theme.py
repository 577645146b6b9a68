"""The colours can be read, and verdicts are told apart by everyone and in print."""

from collections.abc import Iterator
from itertools import combinations

import numpy as np
import pytest
from numpy.typing import NDArray
from PyQt6.QtCore import QRectF, Qt
from PyQt6.QtGui import QColor, QFont, QImage, QPainter
from PyQt6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from sim.findings import ORDER, Verdict
from viewer.window.kit.theme import (
    DARK,
    LIGHT,
    Colours,
    colours,
    dress,
    enlarged,
    is_dark,
    paint_mark,
    palette_of,
)

Floats = NDArray[np.float64]

LOOKS = pytest.mark.parametrize("look", [LIGHT, DARK], ids=["light", "dark"])

WITHOUT_RED = np.array(
    [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216],
     [-0.003882, -0.048116, 1.051998]]
)  # fmt: skip
WITHOUT_GREEN = np.array(
    [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413],
     [-0.011820, 0.042940, 0.968881]]
)  # fmt: skip
"""Linear sRGB as people without red or green cones see it: the usual matrices of physiological
simulation at full strength, from memory; every row sums to 1, since white stays white."""


def linear(colour: str) -> Floats:
    """Linear light of an sRGB colour."""
    c = np.array(QColor(colour).getRgbF()[:3])
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def luminance(colour: str) -> float:
    return float(linear(colour) @ [0.2126, 0.7152, 0.0722])


def contrast(one: str, other: str) -> float:
    """Contrast of luminance as accessibility rules define it: 1 to 21."""
    low, high = sorted([luminance(one), luminance(other)])
    return (high + 0.05) / (low + 0.05)


def lab(light: Floats) -> Floats:
    """CIE L*a*b* of linear sRGB, white of D65."""
    xyz = np.array(
        [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    ) @ np.clip(light, 0.0, 1.0)
    x = xyz / [0.9505, 1.0, 1.089]
    f = np.where(x > 0.008856, np.cbrt(x), 7.787 * x + 16.0 / 116.0)
    return np.array([116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])])


def test_the_measures_know_black_and_white() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-9)
    assert lab(linear("#ffffff")) == pytest.approx([100.0, 0.0, 0.0], abs=0.02)
    for matrix in (WITHOUT_RED, WITHOUT_GREEN):
        np.testing.assert_allclose(matrix.sum(axis=1), 1.0, rtol=0.0, atol=2e-6)


@LOOKS
def test_words_can_be_read_wherever_they_stand(look: Colours) -> None:
    grounds = (look.window, look.paper, look.raised)
    for words in (look.ink, look.quiet, look.accent, *look.verdicts.values()):
        for ground in grounds:
            assert contrast(words, ground) >= 4.5, (words, ground)
    assert contrast(look.on_accent, look.accent) >= 4.5
    for verdict in ORDER:
        assert contrast(look.ink, look.washes[verdict]) >= 4.5
    for ground in grounds:
        assert contrast(look.line, ground) >= 3.0, "borders of controls"


@LOOKS
def test_verdicts_are_told_apart_in_grey(look: Colours) -> None:
    for some in (look.verdicts, look.washes):
        for a, b in combinations(some.values(), 2):
            assert abs(lab(linear(a))[0] - lab(linear(b))[0]) > 5.0, (a, b)
    for a, b in combinations(look.verdicts.values(), 2):
        assert abs(lab(linear(a))[0] - lab(linear(b))[0]) > 10.0, (a, b)


@LOOKS
@pytest.mark.parametrize("eyes", [np.eye(3), WITHOUT_RED, WITHOUT_GREEN])
def test_verdicts_are_told_apart_by_everyone(look: Colours, eyes: Floats) -> None:
    for a, b in combinations(look.verdicts.values(), 2):
        apart = np.linalg.norm(lab(eyes @ linear(a)) - lab(eyes @ linear(b)))
        assert apart > 24.0, (a, b, apart)


def drawn(verdict: Verdict, look: Colours, side: int = 40) -> Floats:
    """Grey picture of a mark, 0 where the paper is."""
    image = QImage(side, side, QImage.Format.Format_RGB32)
    image.fill(QColor(look.paper))
    painter = QPainter(image)
    paint_mark(painter, QRectF(0, 0, side, side), verdict, look)
    painter.end()
    ground = luminance(look.paper)
    grey = np.array(
        [[luminance(image.pixelColor(x, y).name()) for x in range(side)] for y in range(side)]
    )
    return np.abs(grey - ground)


@LOOKS
def test_marks_are_told_apart_without_colour(qtbot: QtBot, look: Colours) -> None:  # noqa: ARG001
    """At the size of a line of text, marks cover different pixels."""
    inked = {verdict: drawn(verdict, look, 16) > 0.1 for verdict in ORDER}
    for a, b in combinations(ORDER, 2):
        differ = float(np.mean(inked[a] ^ inked[b]))
        assert differ > 0.15, (a, b, differ)
    for verdict in ORDER:
        assert 0.25 < float(np.mean(inked[verdict])) < 0.9


def test_marks_stay_inside_their_place(qtbot: QtBot) -> None:  # noqa: ARG001
    image = QImage(60, 40, QImage.Format.Format_RGB32)
    for verdict in ORDER:
        image.fill(QColor("white"))
        painter = QPainter(image)
        paint_mark(painter, QRectF(10, 10, 40, 20), verdict, LIGHT)
        painter.end()
        inked = [
            (x, y)
            for x in range(60)
            for y in range(40)
            if image.pixelColor(x, y) != QColor("white")
        ]
        assert min(x for x, _ in inked) >= 19
        assert max(x for x, _ in inked) <= 40
        assert min(y for _, y in inked) >= 9
        assert max(y for _, y in inked) <= 30


@LOOKS
def test_a_widget_takes_the_set_of_its_palette(qtbot: QtBot, look: Colours) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    widget.setPalette(palette_of(look))
    assert is_dark(widget) is look.dark
    assert colours(widget) is look


@pytest.fixture
def program(qapp: QApplication) -> Iterator[QApplication]:
    """The program, which looks afterwards as it did before."""
    palette, style = qapp.palette(), qapp.style()
    name = "" if style is None else style.objectName()
    yield qapp
    dress(qapp, False)
    qapp.setStyle(name)
    qapp.setPalette(palette)


def test_the_program_follows_the_system_unless_told_otherwise(program: QApplication) -> None:
    hints = program.styleHints()
    assert hints is not None
    for _ in range(2):
        dress(program)
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Dark)
    assert is_dark()
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Light)
    assert not is_dark()
    dress(program, True)
    assert colours() is DARK
    hints.colorSchemeChanged.emit(Qt.ColorScheme.Light)
    assert is_dark(), "told otherwise"


def test_type_grows_from_points_and_from_pixels() -> None:
    points, pixels = QFont(), QFont()
    points.setPointSizeF(10.0)
    pixels.setPixelSize(14)
    assert enlarged(points, 1.5, bold=True).pointSizeF() == pytest.approx(15.0, abs=1e-9)
    assert enlarged(points, 1.5, bold=True).bold()
    assert enlarged(pixels, 2.0).pixelSize() == 28
