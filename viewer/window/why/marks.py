"""The marks that yokes have from each other: each with its place, how deep, one or a pair."""

from PyQt6.QtWidgets import QComboBox, QWidget

from viewer.session.why.room import WhyRoom
from viewer.window.kit.line import Line
from viewer.window.kit.pieces import button, choosing, column, row, unheard, words
from viewer.window.kit.theme import colours, em
from viewer.words.apart import mark_text

HOW = (
    "Press Mark here, then click on a yoke where its metal shows a mark. Its surface and its clock "
    "position come from where you click."
)
PAIR = (("not looked at", None, ""), ("yes", True, ""), ("no", False, ""))


class MarkRow(QWidget):
    """One mark."""

    def __init__(self, room: WhyRoom, number: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room, self.number = room, number
        self.title = words("", self, bold=True)
        self.deep = Line()
        self.deep.setPlaceholderText("as 0.030 in")
        self.deep.setAccessibleName(f"Depth of mark {number + 1}")
        self.deep.editingFinished.connect(self._on_depth)
        self.pair = choosing("Another one straight across", "", PAIR)
        self.pair.activated.connect(self._on_pair)
        self.across = words("Another straight across", self)
        self.away = button("Take away", "Takes this mark away.", self._on_away)
        self.away.setAccessibleName(f"Take mark {number + 1} away")
        self.wrong = words("", self, size=0.9)
        gap = round(0.3 * em(self))
        column(
            row((self.title, 1), self.away, gap=gap),
            row(words("Depth", self), (self.deep, 1), gap=gap),
            row((self.across, 1), self.pair, gap=gap),
            self.wrong,
            on=self,
            gap=gap,
            edge=0,
        )

    def refresh(self) -> None:
        """Show what is told of it."""
        mark = self.room.data["marks"][self.number]
        self.title.setText(f"{self.number + 1}  {mark_text(mark, self.room.joint)}")
        if not self.deep.hasFocus():
            with unheard(self.deep):
                self.deep.setText(str(mark.get("depth", "")))
        with unheard(self.pair):
            self.pair.setCurrentIndex(max(0, self.pair.findData(mark.get("pair"))))
        problem = self.room.problem(f"marks[{self.number + 1}]")
        self.wrong.setVisible(bool(problem))
        self.wrong.setText(f"\N{BALLOT X} {problem}")
        self.wrong.setStyleSheet(f"color: {colours(self).verdicts['touches']};")

    def _on_depth(self) -> None:
        text = self.deep.text().strip()
        if text != str(self.room.data["marks"][self.number].get("depth", "")):
            self.room.change_mark(self.number, "depth", text or None)

    def _on_pair(self, _place: int) -> None:
        box: QComboBox = self.pair
        self.room.change_mark(self.number, "pair", box.currentData())

    def _on_away(self) -> None:
        self.room.drop_mark(self.number)


class MarksPage(QWidget):
    """All marks, with how to put one.

    Attributes
    ----------
    here : pressed while a click on a yoke puts a mark. none, unseen : no marks; nobody looked.
    """

    def __init__(self, room: WhyRoom, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.room = room
        self.rows: list[MarkRow] = []
        self.here = button("&Mark here", "The next click on a yoke puts a mark there.")
        self.here.setCheckable(True)
        self.none = button("&No marks", "You looked, and the yokes never met.", self._on_none)
        self.unseen = button("Not look&ed at", "Takes all marks back.", self._on_unseen)
        self.state = words("", self, bold=True, called="Marks: state")
        gap = round(0.6 * em(self))
        self._list = column(gap=gap, edge=0)
        head = row(self.here, self.none, self.unseen, None, gap=gap)
        parts = (words(HOW, self), head, self.state, self._list, None)
        column(*parts, on=self, gap=gap, edge=round(0.4 * em(self)))

    def refresh(self) -> None:
        """Show the marks there are."""
        marks = self.room.data.get("marks")
        count = 0 if marks is None else len(marks)
        if count != len(self.rows):
            for each in self.rows:
                self._list.removeWidget(each)
                each.hide()
                each.deleteLater()
            self.rows = [MarkRow(self.room, number, self) for number in range(count)]
            for each in self.rows:
                self._list.addWidget(each)
        for each in self.rows:
            each.refresh()
        said = "looked at, none found" if marks is not None else "not looked at"
        self.state.setText(f"{count} seen" if count else said)
        self.none.setEnabled(marks is None)
        self.unseen.setEnabled(marks is not None)

    def _on_none(self) -> None:
        self.room.tell_of_all("marks", [])

    def _on_unseen(self) -> None:
        self.room.tell_of_all("marks", None)
