"""Whether the answer is that of the rig as it stands; how far a new one is; how to stop it."""

from PyQt6.QtGui import QColor, QPalette
from PyQt6.QtWidgets import QGridLayout, QWidget

from viewer.session.session import Session
from viewer.session.told.state_words import answer_words
from viewer.window.kit.pieces import button, progress_bar, show_share, words
from viewer.window.kit.theme import colours, em


class AnswerBar(QWidget):
    """Hidden while the answer is fresh."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.words = words(called="Is the answer that of the rig as it stands", selects=True)
        self.progress = progress_bar("How much of the answer is computed")
        self.button = button("Stop &computing", does=self._on_button)
        self.setAutoFillBackground(True)
        grid = QGridLayout(self)
        edge = round(0.4 * em(self))
        grid.setContentsMargins(edge, edge, edge, edge)
        grid.addWidget(self.words, 0, 0, 1, 2)
        grid.addWidget(self.progress, 1, 0)
        grid.addWidget(self.button, 1, 1)
        grid.setColumnStretch(0, 1)

    def refresh(self) -> None:
        """Show the state of the answer."""
        answers, look = self._session.answers, colours(self.parentWidget())
        fresh = answers.state == "fresh"
        self.setVisible(not fresh)
        if fresh:
            return
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Window, QColor(look.washes["close"]))
        self.setPalette(palette)
        self.words.setText(answer_words(self._session))
        self.progress.setVisible(answers.is_computing)
        show_share(self.progress, answers.share)
        self.button.setVisible(answers.is_computing or self._session.document.is_right)
        if answers.is_computing:
            self.button.setText("Stop &computing")
            self.button.setToolTip("Stop computing; the old answer stays.")
        else:
            self.button.setText("&Compute again")
            self.button.setToolTip("Compute the answer to the rig as it stands.")

    def _on_button(self) -> None:
        if self._session.answers.is_computing:
            self._session.answers.cancel()
        else:
            self._session.ask_again()
