"""What the travel map and the turn strip have in common: a choice, what is shown, and a chart."""

from collections.abc import Sequence

from PyQt6.QtWidgets import QComboBox, QWidget

from viewer.session.session import Session
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import column, row, unheard
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.theme import em

OLD = "old answer: "
"""Before what is told of an answer that a newer one is being computed for."""


class ChartView(Follower):
    """A chart under the choice of what it is of.

    A subclass makes its canvas, calls `arrange`, and says what is done in `on_choice`.

    Attributes
    ----------
    choice : what the chart is of. label : of the choice. title : what is shown.
    column : where more can be put below the chart.
    """

    def __init__(self, session: Session, parent: QWidget | None, label: str) -> None:
        super().__init__(session, parent)
        self.title = PlainLabel(self)
        self.choice = QComboBox(self)
        self.choice.currentIndexChanged.connect(self.on_choice)
        self.label = PlainLabel(label, self)
        self.label.setBuddy(self.choice)

    def arrange(self, canvas: QWidget) -> None:
        """Put the choice and the title over the chart, which has the focus."""
        self.setFocusProxy(canvas)
        head, edge = row(self.label, self.choice, (self.title, 1)), round(0.3 * em(self))
        self.column = column(head, (canvas, 1), on=self, gap=edge, edge=edge)

    def offer(self, items: Sequence[tuple[str, str]], chosen: str) -> None:
        """Offer words and what each stands for, one of which is chosen; tells nobody."""
        there = [data for _, data in items]
        with unheard(self.choice):
            if [self.choice.itemData(i) for i in range(self.choice.count())] != there:
                self.choice.clear()
                for words, data in items:
                    self.choice.addItem(words, data)
            self.choice.setCurrentIndex(self.choice.findData(chosen))

    def on_choice(self) -> None:
        """Show what was chosen."""
