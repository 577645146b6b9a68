"""The panel of the travel map: what it shows, of which roll, and the map."""

from functools import partial

from PyQt6.QtCore import QPointF, QRectF, QSize, Qt
from PyQt6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PyQt6.QtWidgets import QWidget

from viewer.session.charts.travel_map import Layer
from viewer.session.session import Session
from viewer.session.told.place_words import LAYER_SAYS, LAYER_TITLES, roll_words
from viewer.window.chart.hatch import sample
from viewer.window.chart.legend import Entry, Legend
from viewer.window.chart.view import OLD, ChartView
from viewer.window.kit.painting import around
from viewer.window.kit.theme import colours, em
from viewer.window.map.canvas import MapCanvas
from viewer.window.map.marks import polygon
from viewer.words.now import now_lines
from viewer.words.verdicts import VERDICT_WORDS, verdict_word

LOW = 18.0
"""Heights of a line below which there is no legend; the words on the map and the pointer tell."""


class MapView(ChartView):
    """The travel map with its choice of layer.

    Attributes
    ----------
    choice : the layer. title : of which roll. canvas : the map.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent, "&Look at")
        self.setAccessibleName("Travel map panel")
        self.title.setAccessibleName("What the map is of")
        self.choice.setAccessibleName("What the map shows the room of")
        self.canvas = MapCanvas(session, self)
        self.legend = Legend(self)
        self.arrange(self.canvas)
        self.column.addWidget(self.legend)
        self.follow(
            (session.mapped, self.refresh),
            (session.answered, self.refresh),
            (session.chose, self.refresh),
            (session.posed, self._on_moved),
        )

    def refresh(self) -> None:
        """Show everything anew."""
        self._offer()
        found, answers = self.session.map, self.session.answers
        words = "" if found is None else roll_words(found.roll)
        if found is not None and answers.state != "fresh":
            words = OLD + words
        self.title.setText(words)
        self.title.setToolTip(
            "The map is for this roll; Page Up and Page Down on the map change it."
        )
        self._explain()
        self._on_moved()

    def _on_moved(self) -> None:
        now = self.session.now
        self.canvas.setAccessibleDescription("" if now is None else now_lines(now))
        self.canvas.update()

    def _offer(self) -> None:
        """Offer the layers this shaft has, the worst of all first."""
        found = self.session.map
        there: list[Layer] = ["worst"]
        if found is not None:
            there += [layer for layer in found.room if layer != "worst"]
        self.offer([(LAYER_TITLES[layer], layer) for layer in there], self.canvas.layer)
        self.choice.setToolTip(LAYER_SAYS[self.canvas.layer])

    def on_choice(self) -> None:
        """Show the room of another joint, the slip, or the worst of all, and look at it."""
        self.session.choose(self.choice.currentData())

    def minimumSizeHint(self) -> QSize:
        """With the choice over the map; the legend gives way."""
        least = self.canvas.minimumSizeHint()
        return least + QSize(0, self.choice.sizeHint().height() + round(0.9 * em(self)))

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Leave the legend out where the map needs the height."""
        super().resizeEvent(event)
        self.legend.setVisible(self.height() >= LOW * em(self))

    def _explain(self) -> None:
        """Fill the legend with what this map has."""
        found, look = self.session.map, colours(self)
        size = 0.5 * em(self)
        entries: list[Entry] = []
        if found is not None:
            entries = [
                (word.lower(), partial(sample, look=look, area=verdict, size=size))
                for verdict, word in (VERDICT_WORDS | {"touches": self._bad}).items()
            ]
            entries += [
                ("axle now", self._sample_here),
                ("ride height", self._sample_ride),
                ("worst, numbered as the findings", partial(self._sample_worst, full=True)),
                ("the same at another roll", partial(self._sample_worst, full=False)),
            ]
        self.legend.show_entries(entries)

    @property
    def _bad(self) -> str:
        """What the crossed areas stand for: metal, the slip, or either."""
        meets, runs_out = VERDICT_WORDS["touches"], verdict_word("touches", metal=False)
        return {"worst": f"{meets} or {runs_out}", "slip": runs_out}.get(self.canvas.layer, meets)

    def _sample_here(self, painter: QPainter, box: QRectF) -> None:
        accent, middle, gap = QColor(colours(self).accent), box.center(), 0.28 * box.height()
        painter.setPen(QPen(accent, 2.0))
        painter.drawRect(around(middle, 2.0 * gap, 2.0 * gap))
        for side in (-1.0, 1.0):
            for way in (QPointF(side, 0.0), QPointF(0.0, side)):
                painter.drawLine(middle + way * gap, middle + way * 0.5 * box.height())

    def _sample_ride(self, painter: QPainter, box: QRectF) -> None:
        painter.setPen(QPen(QColor(colours(self).ink), 1.8))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawEllipse(box.center(), 0.38 * box.height(), 0.38 * box.height())

    def _sample_worst(self, painter: QPainter, box: QRectF, full: bool) -> None:
        quiet = QColor(colours(self).quiet)
        painter.setPen(Qt.PenStyle.NoPen if full else QPen(quiet, 1.8))
        painter.setBrush(quiet if full else Qt.BrushStyle.NoBrush)
        painter.drawPolygon(polygon(box.center(), 4, (0.55 if full else 0.5) * box.height()))
