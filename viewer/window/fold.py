"""A titled group of rows that can be folded away."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QHBoxLayout, QPushButton, QToolButton, QVBoxLayout, QWidget

from viewer.session.sheet import Group
from viewer.window.theme import em, enlarged


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
        column = QVBoxLayout(self)
        column.setContentsMargins(0, round(0.3 * em(self)), 0, 0)
        column.setSpacing(0)
        head = QHBoxLayout()
        self.title = QToolButton()
        self.title.setText(group.title)
        self.title.setFont(enlarged(self.font(), 1.0, bold=group.there))
        self.title.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.title.setAutoRaise(True)
        self.title.setToolTip(group.help)
        self.title.setAccessibleDescription(group.help)
        head.addWidget(self.title)
        head.addStretch(1)
        column.addLayout(head)
        self.body = QWidget()
        self.rows = QVBoxLayout(self.body)
        margin = round(0.8 * em(self))
        self.rows.setContentsMargins(margin, 0, margin // 2, margin // 3)
        self.rows.setSpacing(0)
        column.addWidget(self.body)
        if group.there:
            self.title.clicked.connect(self._on_clicked)
            self.open(is_open)
        else:
            self.body.hide()
        if group.optional:
            button = QPushButton("Take away" if group.there else "Add")
            button.setAccessibleName(f"{button.text()}: {group.title}")
            button.setToolTip(group.help)
            button.clicked.connect(self._on_button)
            head.addWidget(button)

    def open(self, is_open: bool) -> None:
        """Show the rows, or only the title."""
        self.is_open = is_open
        self.body.setVisible(is_open)
        arrow = Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow
        self.title.setArrowType(arrow)

    def _on_clicked(self) -> None:
        self.open(not self.is_open)
        self.folded.emit(self.group.key, self.is_open)

    def _on_button(self) -> None:
        (self.remove if self.group.there else self.add).emit(self.group)
