"""A text on paper, in black and white: what it is of on every page, the caution, page numbers."""

from dataclasses import dataclass

from PyQt6.QtCore import QMarginsF, QPointF, QRectF, Qt
from PyQt6.QtGui import QFont, QFontDatabase, QFontMetricsF, QPageLayout, QPainter, QPen
from PyQt6.QtPrintSupport import QPrintDialog, QPrinter
from PyQt6.QtWidgets import QDialog, QWidget

LARGEST, SMALLEST = 10.0, 6.5
"""Points of the text; between them it is as large as its longest line has room for."""

SMALL = 8.0
"""Points of what stands at head and foot."""

EDGE = 14.0
"""mm left free on every side."""

BREAK_WITHIN = 8
"""Lines at the end of a page that are looked through for a blank one to end it on."""

_LEFT, _RIGHT, _MIDDLE = (
    Qt.AlignmentFlag.AlignLeft,
    Qt.AlignmentFlag.AlignRight,
    Qt.AlignmentFlag.AlignHCenter,
)
_WRAPPED = int(Qt.TextFlag.TextWordWrap)


@dataclass(frozen=True)
class Paper:
    """What is printed: a text, what stands over it at the left and at the right, and under it."""

    text: str
    head: tuple[str, str]
    foot: str


def chosen_printer(parent: QWidget) -> QPrinter | None:
    """The printer, or the PDF file, that the user chooses; None when the user goes back."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setColorMode(QPrinter.ColorMode.GrayScale)
    dialog = QPrintDialog(printer, parent)
    accepted = dialog.exec() == QDialog.DialogCode.Accepted
    dialog.deleteLater()
    return printer if accepted else None


def print_paper(paper: Paper, printer: QPrinter) -> int:
    """Print it; how many pages that are. Raises OSError where the printer does not begin."""
    printer.setPageMargins(QMarginsF(EDGE, EDGE, EDGE, EDGE), QPageLayout.Unit.Millimeter)
    printer.setColorMode(QPrinter.ColorMode.GrayScale)
    painter = QPainter()
    if not painter.begin(printer):
        raise OSError("the printer does not begin")
    try:
        return _Press(paper, printer, painter).run()
    finally:
        painter.end()


class _Press:
    """One paper on one printer."""

    def __init__(self, paper: Paper, printer: QPrinter, painter: QPainter) -> None:
        self._paper, self._printer, self._painter = paper, printer, painter
        self._page = page = QRectF(painter.viewport())
        self._small = sized(painter.font(), SMALL)
        self._high = high = QFontMetricsF(self._small, printer).lineSpacing()
        painter.setFont(self._small)
        self._foot = painter.boundingRect(page, _WRAPPED, paper.foot).height()
        self._body = page.adjusted(0.0, 2.0 * high, 0.0, -self._foot - 2.5 * high)
        self._letters = self._fitting(paper.text.splitlines())
        self._line = QFontMetricsF(self._letters, printer).lineSpacing()

    def run(self) -> int:
        """Print every page; how many there are."""
        metrics = QFontMetricsF(self._letters, self._printer)
        across = max(20, int(self._page.width() / metrics.horizontalAdvance("0")))
        lines = [part for line in self._paper.text.splitlines() for part in in_parts(line, across)]
        pages = broken_into_pages(lines, max(1, int(self._body.height() / self._line)))
        for number, part in enumerate(pages, start=1):
            if number > 1:
                self._printer.newPage()
            self._frame(f"page {number} of {len(pages)}")
            self._painter.setFont(self._letters)
            for row, words in enumerate(part, start=1):
                self._painter.drawText(self._body.topLeft() + QPointF(0.0, row * self._line), words)
        return len(pages)

    def _frame(self, number: str) -> None:
        """What stands at the head and the foot of every page."""
        painter, page, high = self._painter, self._page, self._high
        painter.setPen(QPen(Qt.GlobalColor.black, 0.06 * high))
        painter.setFont(self._small)
        top, bottom = Qt.AlignmentFlag.AlignTop, Qt.AlignmentFlag.AlignBottom
        for words, side in zip(self._paper.head, (_LEFT, _RIGHT), strict=True):
            painter.drawText(page, int(side | top), words)
        down = QPointF(0.0, 1.3 * high)
        painter.drawLine(page.topLeft() + down, page.topRight() + down)
        place = QRectF(page.left(), page.bottom() - self._foot - high, page.width(), self._foot)
        painter.drawText(place, _WRAPPED, self._paper.foot)
        painter.drawText(page, int(_MIDDLE | bottom), number)

    def _fitting(self, lines: list[str]) -> QFont:
        """Letters of one width, as large as the longest line has room for."""
        fixed = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
        letters = sized(fixed, LARGEST)
        metrics = QFontMetricsF(letters, self._printer)
        across = max(metrics.horizontalAdvance(line) for line in (*lines, "0"))
        size = min(LARGEST, LARGEST * self._page.width() / across)
        return sized(fixed, max(SMALLEST, size))


def in_parts(line: str, most: int) -> list[str]:
    """A line in parts of at most so many letters, the later ones set in as the line was."""
    line = line.rstrip()
    start = line[: min(len(line) - len(line.lstrip()), most // 2)]
    parts = []
    while len(line) > most:
        cut = line.rfind(" ", len(start) + 1, most + 1)
        cut = most if cut <= len(start) else cut
        parts.append(line[:cut])
        line = f"{start}{line[cut:].lstrip()}"
    return [*parts, line]


def broken_into_pages(lines: list[str], most: int) -> list[list[str]]:
    """Lines on pages of at most so many, ended on a blank line where one is near the end."""
    pages = []
    while len(lines) > most:
        near = range(most, max(0, most - BREAK_WITHIN), -1)
        end = next((i for i in near if not lines[i].strip()), most)
        pages.append(lines[:end])
        lines = lines[end:]
        while lines and not lines[0].strip():
            lines = lines[1:]
    return [*pages, lines] if lines or not pages else pages


def sized(font: QFont, points: float) -> QFont:
    """A font of a size."""
    made = QFont(font)
    made.setPointSizeF(points)
    return made
