"""A titled group of rows that can be folded away."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QFrame, QLabel, QSizePolicy, QToolButton, QWidget

from viewer.session.sheet.sheet import Group
from viewer.window.kit.pieces import button, column, row, words
from viewer.window.kit.theme import colours, em, enlarged

PLAIN = (
    "QToolButton { border: none; text-align: left; padding: 2px; }"
    "QToolButton:focus { text-decoration: underline; }"
)
"""A title is a button without the looks of one; it is underlined while it has the focus."""


class Fold(QWidget):
    """One group.

    Signals
    -------
    add, remove : the table is wanted, or is not.
    folded : the user opened or closed it.
    """

    add = pyqtSignal(object)
    remove = pyqtSignal(object)
    folded = pyqtSignal(str, bool)

    def __init__(self, group: Group, is_open: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.group = group
        self.is_open = False
        self.title = self._make_title()
        head = row((self.title, 1))
        self._rule = QFrame()
        self._rule.setFrameShape(QFrame.Shape.HLine)
        self._rule.setFrameShadow(QFrame.Shadow.Plain)
        self.wrong = words()
        self.wrong.hide()
        self.body = QWidget()
        self.rows = column(on=self.body, gap=0)
        margin = round(0.8 * em(self))
        self.rows.setContentsMargins(margin, 0, margin // 2, margin // 3)
        whole = column(self._rule, head, self.wrong, self.body, on=self, gap=0)
        whole.setContentsMargins(0, round(0.3 * em(self)), 0, 0)
        if group.there:
            self.open(is_open)
        else:
            self.body.hide()
        if group.optional:
            does = "Take away" if group.there else "Add"
            changes = button(does, group.help, self._on_button, f"{does}: {group.title}")
            changes.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
            head.addWidget(changes)

    def _make_title(self) -> QToolButton | QLabel:
        """A title to fold with; only words where there is nothing to fold."""
        group = self.group
        if not group.there:
            label = words(group.title)
            label.setToolTip(group.help)
            label.setContentsMargins(round(0.4 * em(self)), 0, 0, 0)
            return label
        title = QToolButton()
        title.setText(group.title)
        title.setFont(enlarged(self.font(), 1.0, bold=True))
        title.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        title.setStyleSheet(PLAIN)
        title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        title.setToolTip(group.help)
        title.setAccessibleDescription(group.help)
        title.clicked.connect(self._on_clicked)
        return title

    def open(self, is_open: bool) -> None:
        """Show the rows, or only the title."""
        self.is_open = is_open
        self.body.setVisible(is_open)
        if isinstance(self.title, QToolButton):
            arrow = Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow
            self.title.setArrowType(arrow)

    def tell(self, problem: str | None, inside: bool) -> None:
        """Say what is wrong with the table, and mark the title where a row has a problem."""
        look = colours(self)
        ink = look.verdicts["touches"]
        _style(self._rule, f"color: {look.grid};")
        cross = "\N{BALLOT X}"
        self.wrong.setVisible(problem is not None)
        self.wrong.setText(f"{cross} {problem or ''}")
        _style(self.wrong, f"color: {ink};")
        marked = problem is not None or inside
        self.title.setText(f"{self.group.title}  {cross}" if marked else self.group.title)
        _style(self.title, f"{PLAIN} * {{ color: {ink}; }}" if marked else PLAIN)

    def _on_clicked(self) -> None:
        self.open(not self.is_open)
        self.folded.emit(self.group.key, self.is_open)

    def _on_button(self) -> None:
        (self.remove if self.group.there else self.add).emit(self.group)


def _style(widget: QWidget, sheet: str) -> None:
    """Style only what is to look otherwise: reading a sheet takes long."""
    if widget.styleSheet() != sheet:
        widget.setStyleSheet(sheet)
