"""Ruling remedies out: a menu with a mark at each that is not to be tried."""

from PyQt6.QtGui import QAction
from PyQt6.QtWidgets import QMenu, QToolButton, QWidget

from viewer.session.session import Session


class RuleOut(QToolButton):
    """A button with the remedies, each of which a press rules out or takes back.

    Attributes
    ----------
    actions_by_code : the entry of each remedy; empty until the menu is first opened.
    """

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.actions_by_code: dict[str, QAction] = {}
        self.setText("Rule out")
        self.setAccessibleName("Remedies that are ruled out")
        self.setToolTip("Remedies that are not to be tried.")
        self.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        menu = QMenu(self)
        menu.aboutToShow.connect(self.fill)
        self.setMenu(menu)
        self.refresh()

    def fill(self) -> None:
        """Put every remedy into the menu, once."""
        menu = self.menu()
        if self.actions_by_code or menu is None:
            return
        from sim.cures import REMEDIES  # late: the window must not wait for it
        from viewer.words.cures import remedy_name

        for remedy in REMEDIES:
            action = QAction(remedy_name(remedy.code), menu)
            action.setCheckable(True)
            action.setChecked(remedy.code in self.session.without)
            action.toggled.connect(lambda out, code=remedy.code: self.session.rule_out(code, out))
            menu.addAction(action)
            self.actions_by_code[remedy.code] = action

    def refresh(self) -> None:
        """Say how many are ruled out."""
        count = len(self.session.without)
        self.setText(f"Rule out ({count})" if count else "Rule out")
