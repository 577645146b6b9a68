"""What would cure the rig: found on a press, tried on another, and taken back like any change."""

from collections.abc import Sequence

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from viewer.session.cure_words import cures_words
from viewer.session.cures.lines import NOT_ENOUGH, CureList
from viewer.session.session import Session
from viewer.window.cures.block import CureBlock
from viewer.window.cures.rule_out import RuleOut
from viewer.window.kit.follower import Follower, Link
from viewer.window.kit.plain_label import PlainLabel
from viewer.window.kit.scrolled import tall
from viewer.window.kit.theme import em, enlarged


class CuresPanel(Follower):
    """The cures of the rig, the cheapest first.

    Attributes
    ----------
    seek, stop : look for them, and no longer. rule_out : which remedies are not to be tried.
    says : how it stands. progress : how far it is.
    blocks : one for each cure.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Cures")
        self.seek, self.stop = QPushButton("Find c&ures"), QPushButton("Stop")
        self.seek.setToolTip("Tries every remedy on the rig as it stands, alone and in pairs.")
        self.stop.setToolTip("Stops looking.")
        self.seek.clicked.connect(self.look)
        self.stop.clicked.connect(session.cures.cancel)
        self.rule_out = RuleOut(session, self)
        self.says = _words(self, "How it stands with the cures")
        self.progress = QProgressBar(self)
        self.progress.setRange(0, 1000)
        self.progress.setAccessibleName("How many of the remedies are tried")
        self.blocks: list[CureBlock] = []
        self._shown: CureList | None = None
        self.area = tall()
        buttons = QHBoxLayout()
        buttons.addWidget(self.seek)
        buttons.addWidget(self.stop)
        buttons.addWidget(self.progress, stretch=1)
        buttons.addStretch()
        buttons.addWidget(self.rule_out)
        column = QVBoxLayout(self)
        gap = round(0.4 * em(self))
        column.setContentsMargins(gap, gap, gap, gap)
        column.setSpacing(gap)
        column.addLayout(buttons)
        column.addWidget(self.says)
        column.addWidget(self.area, stretch=1)
        self.setFocusProxy(self.seek)
        self.follow()

    def look(self) -> None:
        """Look for the cures of the rig as it stands, unless they are there already."""
        cures, text = self.session.cures, self.session.document.text
        found = cures.answer if cures.state == "fresh" else None
        known = (
            found is not None
            and found.is_of(text)
            and set(found.without) == set(self.session.without)
        )
        if not cures.is_computing and not known:
            self.session.look_for(cures)

    def links(self) -> Sequence[Link]:
        """The text of the rig, and how far the cures are."""
        cures = self.session.cures
        return (
            (cures.changed, self.refresh),
            (cures.progressed, self._on_progress),
            (self.session.rig_changed, self.refresh),
        )

    def refresh(self) -> None:
        """Show what was found, and whether it is of the rig as it stands."""
        cures, document = self.session.cures, self.session.document
        if cures.answer is not self._shown:
            self._list(cures.answer)
        self.seek.setVisible(not cures.is_computing)
        self.seek.setEnabled(document.is_right)
        self.rule_out.setEnabled(not cures.is_computing)
        self.rule_out.refresh()
        for each in (self.stop, self.progress):
            each.setVisible(cures.is_computing)
        self._on_progress()
        found = cures.answer
        holds = found is not None and found.is_of(document.text) and not cures.is_computing
        tried = None if found is None else found.tried(document.text)
        for place, block in enumerate(self.blocks):
            block.show_state(holds, place == tried)

    def _on_progress(self) -> None:
        cures = self.session.cures
        self.progress.setValue(round(1000 * cures.share))
        self.says.setText(cures_words(cures, self.session.document, self.session.without))

    def _list(self, found: CureList | None) -> None:
        self._shown, self.blocks = found, []
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(round(0.6 * em(self)))
        for place, cure in enumerate(() if found is None else found.cures):
            if not cure.works and (place == 0 or self.blocks[-1].cure.works):
                column.addWidget(self._heading(NOT_ENOUGH))
            block = CureBlock(place + 1, cure)
            block.wanted.connect(self._on_wanted)
            self.blocks.append(block)
            column.addWidget(block)
        for note in () if found is None else found.notes:
            label = _words(self, "Note")
            label.setText(note)
            column.addWidget(label)
        column.addStretch(1)
        self.area.setWidget(inside)
        bar = self.area.verticalScrollBar()
        if bar is not None:
            wide = inside.minimumSizeHint().width() + bar.sizeHint().width()
            self.area.setMinimumWidth(wide)

    def _heading(self, words: str) -> QLabel:
        label = PlainLabel(words)
        label.setWordWrap(True)
        label.setFont(enlarged(self.font(), 1.0, bold=True))
        return label

    def _on_wanted(self, number: int) -> None:
        self.session.try_cure(number - 1)


def _words(parent: QWidget, name: str) -> QLabel:
    label = PlainLabel(parent)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setAccessibleName(name)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
