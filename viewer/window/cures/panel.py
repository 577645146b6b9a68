"""What would cure the rig: found on a press, tried on another, and taken back like any change."""

from PyQt6.QtCore import pyqtSignal
from PyQt6.QtWidgets import QWidget

from viewer.session.cures.lines import NOT_ENOUGH, CureList
from viewer.session.session import Session
from viewer.session.told.cure_words import cures_words
from viewer.window.cures.block import CureBlock
from viewer.window.cures.rule_out import RuleOut
from viewer.window.kit.follower import Follower
from viewer.window.kit.pieces import (
    button,
    column,
    progress_bar,
    put_whole,
    row,
    show_share,
    tall,
    words,
)
from viewer.window.kit.theme import em


class CuresPanel(Follower):
    """The cures of the rig, the cheapest first.

    Attributes
    ----------
    seek, stop : look for them, and no longer. rule_out : which remedies are not to be tried.
    says : how it stands. progress : how far it is.
    blocks : one for each cure. both : shows the one that is tried beside the rig as it was.

    Signals
    -------
    both_wanted : that is wanted.
    """

    both_wanted = pyqtSignal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Cures")
        tip = "Tries every remedy on the rig as it stands, alone and in pairs."
        self.seek = button("Find c&ures", tip, self.look)
        self.stop = button("Stop", "Stops looking.", session.cures.cancel)
        tip = "Shows the rig as it was and with the cure side by side in 3D, from the same eye."
        self.both = button("Show side b&y side", tip, self.both_wanted)
        self.rule_out = RuleOut(session, self)
        self.says = words(called="How it stands with the cures", selects=True)
        self.progress = progress_bar("How many of the remedies are tried")
        self.blocks: list[CureBlock] = []
        self._shown: CureList | None = None
        self.area = tall()
        buttons = row(self.seek, self.stop, (self.progress, 1))
        buttons.addStretch()  # gives way to the progress
        buttons.addWidget(self.rule_out)
        gap = round(0.4 * em(self))
        column(buttons, self.says, row(self.both, None), (self.area, 1), on=self, gap=gap, edge=gap)
        self.setFocusProxy(self.seek)
        cures = session.cures
        self.follow(
            (cures.changed, self.refresh),
            (cures.progressed, self._on_progress),
            (session.rig_changed, self.refresh),
            (session.compared, self.refresh),
        )

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
        self.both.setVisible(tried is not None and self.session.other is not None)
        for place, block in enumerate(self.blocks):
            block.show_state(holds, place == tried)

    def _on_progress(self) -> None:
        cures = self.session.cures
        show_share(self.progress, cures.share)
        self.says.setText(cures_words(cures, self.session.document, self.session.without))

    def _list(self, found: CureList | None) -> None:
        self._shown, self.blocks = found, []
        parts: list[QWidget] = []
        for place, cure in enumerate(() if found is None else found.cures):
            if not cure.works and (place == 0 or self.blocks[-1].cure.works):
                parts.append(words(NOT_ENOUGH, bold=True))
            block = CureBlock(place + 1, cure)
            block.wanted.connect(self._on_wanted)
            self.blocks.append(block)
            parts.append(block)
        for note in () if found is None else found.notes:
            parts.append(words(note, called="Note", selects=True))
        inside = QWidget()
        column(*parts, None, on=inside, gap=round(0.6 * em(self)), edge=0)
        put_whole(self.area, inside)

    def _on_wanted(self, number: int) -> None:
        self.session.try_cure(number - 1)
