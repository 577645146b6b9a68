"""What would cure it, for a customer: the first few cures by name, each to be seen on a press."""

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtWidgets import QWidget

from viewer.session.cures.lines import CureLine
from viewer.session.session import Session
from viewer.session.told.cure_words import cures_words
from viewer.window.customer.parts import Mark
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import button, column, progress_bar, row, show_share, words
from viewer.window.kit.theme import em, enlarged

MOST = 3
"""Cures that are offered; all of them stand in the window."""

LARGE = 1.15

NONE = "Nothing that was tried cures it. The window has what helps, and why it is not enough."
BETTER = "What was tried leaves it short, or does not cure it. Closest:"


class Offers(Follower):
    """The first cures of the rig as it was when they were found, or a way to have them found.

    Attributes
    ----------
    seek, progress, says : how they are found. shown : a button for each cure that is offered.

    Signals
    -------
    wanted : a cure is to be seen; its place in the list.
    """

    wanted = pyqtSignal(int)

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("What would cure it")
        self.title = words("What would cure it?", self, size=1.3, bold=True)
        self.says = words("", self, called="How it stands with the cures")
        self.seek = button("&Find cures", "Tries every remedy on this rig.", self.look)
        self.stop = button("Stop lookin&g", "Stops looking for cures.", session.cures.cancel)
        self.progress = progress_bar("How many of the remedies are tried")
        for each in (self.seek, self.stop):
            each.setFont(enlarged(self.font(), LARGE))
            each.setAutoDefault(True)
        self.shown: list[QWidget] = []
        self._list = column(gap=round(0.7 * em(self)), edge=0)
        parts = (self.title, self.says, self.progress, self.seek, self.stop, self._list, None)
        column(*parts, on=self, gap=round(0.5 * em(self)), edge=0)
        cures = session.cures
        self._listed: tuple[object, str | None] = (None, None)
        self.follow(
            (cures.changed, self.refresh),
            (cures.progressed, self._on_progress),
            (session.rig_changed, self.refresh),
        )

    def look(self) -> None:
        """Have the cures found, unless they are there already."""
        if not self._is_known and not self.session.cures.is_computing:
            self.session.look_for(self.session.cures)

    @property
    def _is_known(self) -> bool:
        found = self.session.cures.answer
        return found is not None and found.is_of(self.session.document.text)

    def refresh(self) -> None:
        """Show what there is to see, or how far the search is."""
        cures, text = self.session.cures, self.session.document.text
        known = self._is_known and not cures.is_computing
        self.seek.setVisible(not known and not cures.is_computing)
        self.stop.setVisible(cures.is_computing)
        self.progress.setVisible(cures.is_computing)
        self._on_progress()
        found = cures.answer if known else None
        state = (found, text)
        if state != self._listed:
            self._listed = state
            self._fill(() if found is None else found.cures, text)

    def _on_progress(self) -> None:
        cures = self.session.cures
        show_share(self.progress, cures.share)
        self.says.setText("" if self.shown else cures_words(cures, self.session.document))

    def _fill(self, cures: tuple[CureLine, ...], text: str) -> None:
        for old in self.shown:
            self._list.removeWidget(old)
            old.hide()
            old.deleteLater()
        working = [place for place, cure in enumerate(cures) if cure.works]
        places = (working or list(range(len(cures))))[:MOST]
        self.shown = [self._offer(place, cures[place], text) for place in places]
        for each in self.shown:
            self._list.addWidget(each)
        self.says.setText(BETTER if places and not working else "")
        if not places:
            self._on_progress()

    def _offer(self, place: int, cure: CureLine, text: str) -> QWidget:
        offer = QWidget(self)
        mark = Mark(1.3, offer)
        mark.show_verdict(cure.verdict)
        name = words(f"{cure.name[:1].upper()}{cure.name[1:]}", offer, size=LARGE, bold=True)
        name.setToolTip(cure.says)
        is_on = cure.text == text
        seen = button("On the screen" if is_on else f"Show it (&{place + 1})", cure.says)
        seen.setAccessibleName(f"Show cure {place + 1}")
        seen.setFont(enlarged(self.font(), LARGE))
        seen.setAutoDefault(True)
        seen.setEnabled(not is_on)
        seen.clicked.connect(lambda _=False: self.wanted.emit(place))
        head = row(mark, (name, 1), gap=round(0.4 * em(self)))
        head.setAlignment(mark, Qt.AlignmentFlag.AlignTop)
        column(head, row(None, seen), on=offer, gap=round(0.2 * em(self)), edge=0)
        return offer
