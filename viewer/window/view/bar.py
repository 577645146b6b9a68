"""The bar over the 3D view: which way it looks, and which parts are seen."""

from PyQt6.QtCore import QSize, pyqtSignal
from PyQt6.QtGui import QAction, QActionGroup, QResizeEvent
from PyQt6.QtWidgets import QMenu, QToolButton, QWidget

from viewer.live.scene import LiveScene
from viewer.live.sight import PLAIN, TITLES, views
from viewer.window.kit.pieces import entry, row

SEEN, FAINT, HIDDEN = "Seen", "See-through", "Hidden"
"""How dense a part is, in words."""

PLAIN_TIP = "Look straight from one side (Ctrl+1 to Ctrl+6)."

DENSITY = {SEEN: 1.0, FAINT: 0.25, HIDDEN: 0.0}


class ViewBar(QWidget):
    """Buttons for the views, folded into one menu where they have no room, and a menu of the parts.

    Attributes
    ----------
    buttons : by view. plain : opens the straight views. folded : the one button in the place of
        both. parts, turning : the others.

    Signals
    -------
    chosen : a view was asked for, by its name.
    changed : parts are seen otherwise.
    """

    chosen = pyqtSignal(str)
    changed = pyqtSignal()

    def __init__(self, scene: LiveScene, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._scene = scene
        self.buttons: dict[str, QToolButton] = {}
        tip = "Choose which way to look (number keys in the view)."
        self.folded = self._button("", "View", tip)
        self.view_menu = _opening(self.folded)
        self.folded.hide()
        self.plain = _lasting(self._button("From ...", "Straight views", PLAIN_TIP))
        menu = _opening(self.plain)
        for view in PLAIN:
            self._offer(menu, view)
        tip = "Choose which parts are seen, seen through or hidden."
        self.parts = self._button("Parts", "Parts that are seen", tip)
        self.menu = _opening(self.parts)
        tip = "Turn the eye with the shaft, so that the same ear stays in view."
        self.turning = _lasting(self._button("Turn along", "Turn along with the shaft", tip))
        self.turning.toggled.connect(self._on_turning)
        self._row = row(self.folded, self.plain, None, self.turning, self.parts, on=self, gap=2)
        self._row.setContentsMargins(4, 2, 4, 2)
        self.rebuild()

    def _button(self, text: str, called: str, tip: str) -> QToolButton:
        button = QToolButton(self)
        button.setText(text)
        button.setAccessibleName(called)
        button.setToolTip(tip)
        return button

    def rebuild(self) -> None:
        """Ask the scene anew what there is."""
        there = [view for view in views(self._scene.vehicle) if view not in PLAIN]
        if list(self.buttons) != there:
            for button in self.buttons.values():
                self._row.removeWidget(button)
                button.deleteLater()
            self.buttons = {}
            self.view_menu.clear()
            for number, view in enumerate(there):
                title, tip = TITLES[view], f"Look at it this way (key {number + 1} in the view)."
                button = _lasting(self._button(title, f"View: {title}", tip))
                button.clicked.connect(lambda _=False, name=view: self.chosen.emit(name))
                self._row.insertWidget(number, button)
                self.buttons[view] = button
            for view in (*there, *PLAIN):
                self._offer(self.view_menu, view)
            self._fold()
        self._fill_menu()
        self.refresh()

    def _offer(self, menu: QMenu, view: str) -> None:
        """Put a view into a menu, with its key if it has one everywhere in the window."""
        key = f"\tCtrl+{PLAIN.index(view) + 1}" if view in PLAIN else ""
        entry(menu, f"{TITLES[view]}{key}", lambda: self.chosen.emit(view))

    def refresh(self) -> None:
        """Mark the view that is on."""
        sight = self._scene.sight
        for view, button in self.buttons.items():
            button.setChecked(view == (sight.on or sight.view))
        self.plain.setChecked(sight.view in PLAIN)
        self.plain.setText(TITLES[sight.view] if sight.view in PLAIN else "From ...")
        self.folded.setText(TITLES.get(sight.on or sight.view, "Looking freely"))
        self.turning.setEnabled(sight.on is not None)

    def minimumSizeHint(self) -> QSize:
        """As narrow as it is folded."""
        hint = super().minimumSizeHint()
        others = (self.folded, self.turning, self.parts)
        return QSize(sum(each.sizeHint().width() for each in others), hint.height())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Fold the views where their names would be cut."""
        super().resizeEvent(event)
        self._fold()

    def _fold(self) -> None:
        views = (*self.buttons.values(), self.plain)
        there = (*views, self.turning, self.parts)
        edges, gap = self._row.contentsMargins(), self._row.spacing()
        need = sum(each.sizeHint().width() + gap for each in there) + edges.left() + edges.right()
        is_tight = need > self.width()
        self.folded.setVisible(is_tight)
        for button in views:
            button.setVisible(not is_tight)

    def _on_turning(self, on: bool) -> None:
        self._scene.sight.turning = on

    def _fill_menu(self) -> None:
        self.menu.clear()
        group = ""
        for part, opacity in self._scene.bodies.listed():
            if part.group != group:
                group = part.group
                self.menu.addSection(group.capitalize())
            inner = self.menu.addMenu(part.title[:1].upper() + part.title[1:])
            if inner is None:
                continue
            choices = QActionGroup(inner)
            state = SEEN if opacity > 0.5 else FAINT if opacity else HIDDEN
            for word in (SEEN, FAINT, HIDDEN):
                action = QAction(word, inner)
                action.setCheckable(True)
                action.setChecked(word == state)
                action.triggered.connect(
                    lambda _=False, name=part.name, how=word: self.set_part(name, how)
                )
                choices.addAction(action)
                inner.addAction(action)
        self.menu.addSeparator()
        everything = self.menu.addAction("Show everything")
        if everything is not None:
            everything.triggered.connect(self.show_everything)

    def set_part(self, name: str, how: str) -> None:
        """Let a part be seen, seen through or hidden."""
        self._scene.bodies.fade(name, DENSITY[how])
        self.changed.emit()

    def show_everything(self) -> None:
        """Let every part be seen."""
        for part, _ in self._scene.bodies.listed():
            self.set_part(part.name, SEEN)
        self._fill_menu()


def _opening(button: QToolButton) -> QMenu:
    """The menu that a button opens."""
    menu = QMenu(button)
    button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
    button.setMenu(menu)
    return menu


def _lasting(button: QToolButton) -> QToolButton:
    """A button that stays down."""
    button.setCheckable(True)
    button.setAutoRaise(True)
    return button
