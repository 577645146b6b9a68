"""What the program is and is not, its cautions in full, and every key it knows."""

from collections.abc import Iterable
from html import escape
from importlib.metadata import PackageNotFoundError, version
from typing import TypeVar

from PyQt6.QtCore import QUrl
from PyQt6.QtGui import QAction, QDesktopServices, QKeySequence
from PyQt6.QtWidgets import QDialog, QDialogButtonBox, QMainWindow, QMenu, QTextBrowser, QWidget

from viewer.fault_log import log_folder
from viewer.window.kit.pieces import button, column, words
from viewer.window.kit.theme import em
from viewer.words.verdicts import CAUTION

STANDARD = QKeySequence.StandardKey

LICENCE = "GPL-3.0-or-later"

CAUTIONS = (
    CAUTION,
    "Measure right: a length from the wrong points, or an angle read off a rough casting, makes "
    "every answer wrong. Values that were left out are assumed, and listed as assumed.",
    "An axle that is cycled with its springs out can drop and pinch. Keep two means of support; "
    "springs and their bolts hold energy.",
    "Keep clothes, hair and hands away from shafts that turn; nobody under a vehicle whose engine "
    "runs. Do not run a vehicle in gear on a hoist with the axle hanging.",
    "A limit of the shaft is not the only one: see that brake hoses, cables, vents and shocks "
    "reach as far as the axle does.",
    "Welding on suspension and steering, brakes and approval on the road belong to people who "
    "are licensed for it.",
)

NOT_DONE = (
    "What it says of touching is geometry. Strength, wear, heat and the life of a part are another "
    "matter.",
    "It does not know of frames that flex, of worn joints, or of anything that was not typed.",
    "It does not balance, weld or certify anything, and it does not replace turning the shaft by "
    "hand.",
    "Generic shapes stand for real parts: measure yours, or bring in a scan of it.",
)

VIEW_KEYS = (
    ("Left, Right, Up, Down", "Turn the view"),
    ("Shift with these", "Move the view"),
    ("+ and -", "Come nearer, go farther"),
    ("1 to 6", "Choose a view of the bar"),
    ("Home", "Back to the whole shaft"),
    ("N, Shift+N", "Go to the next part, or back, and tell what it is"),
    ("H, G, A", "Hide this part, make it glass, bring all back"),
    ("Right click, Menu key", "What can be done with a part, and with the picture"),
    ("Drag, left button", "Turn the view"),
    ("Drag, middle or right button", "Move the view"),
    ("Wheel", "Come nearer, go farther"),
    ("Click", "Tell what is under the mouse"),
)
"""What mouse and keys do in the view of the shaft."""


P = TypeVar("P", bound="Page")


def version_words() -> str:
    """The version that is installed."""
    try:
        return version("bindpoint")
    except PackageNotFoundError:
        return "not installed"


class Page(QDialog):
    """A page to read, with its title, that Escape closes."""

    def __init__(self, title: str, html: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.page = QTextBrowser()
        self.page.setOpenLinks(False)
        self.page.setAccessibleName(title)
        document = self.page.document()
        if document is not None:
            document.setDocumentMargin(0.8 * em(self))
        self.page.setHtml(html)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.buttons.rejected.connect(self.reject)
        heading = words(title, size=1.6, bold=True, wraps=False)
        column(heading, (self.page, 1), self.buttons, on=self)
        self.resize(round(42 * em(self)), round(36 * em(self)))


class AboutPage(Page):
    """Version, licence, cautions in full, what the program does not do, where the log lies."""

    def __init__(self, parent: QWidget | None = None) -> None:
        cautions, not_done = _listed(CAUTIONS), _listed(NOT_DONE)
        super().__init__(
            "About Bindpoint",
            f"<p>Bindpoint finds the point at which a driveshaft binds. Version "
            f"{escape(version_words())}.</p>"
            f"<h3>Cautions</h3><p>A shaft that fails can hurt people.</p>{cautions}"
            f"<h3>What it does not do</h3>{not_done}"
            f"<h3>License</h3><p>{LICENCE}. You may use, study, change and pass on the program "
            "under that licence. There is no warranty, as far as the law allows. All demo rigs "
            "are invented.</p>"
            f"<h3>Log</h3><p>Faults of the program are written down in "
            f"{escape(str(log_folder()))}.</p>",
            parent,
        )
        tip = "Shows the folder with the log in the file manager."
        opener = button("Open the &log folder", tip, open_log_folder)
        opener.setAutoDefault(False)
        self.buttons.addButton(opener, QDialogButtonBox.ButtonRole.ActionRole)


class KeysPage(Page):
    """Every action of the window and the key for it."""

    def __init__(self, window: QWidget, parent: QWidget | None = None) -> None:
        rows = [
            f"<tr><th align='left' colspan='2'><br>{escape(title)}</th></tr>" + _rows(pairs)
            for title, pairs in (*_groups(window), ("In the view of the shaft", VIEW_KEYS))
        ]
        super().__init__(
            "Keys",
            f"<table cellpadding='3'>{''.join(rows)}</table>"
            "<p>Tab goes from field to field; Alt with a letter that is underlined presses a "
            "button or opens a menu.</p>",
            parent or window,
        )


def show_about(parent: QWidget) -> AboutPage:
    """Open the page about the program."""
    return _opened(AboutPage(parent))


def show_keys(parent: QWidget) -> KeysPage:
    """Open the page of keys."""
    return _opened(KeysPage(parent))


def open_log_folder() -> bool:
    """Show the folder with the log in the file manager; whether that worked."""
    return QDesktopServices.openUrl(QUrl.fromLocalFile(str(log_folder())))


def _opened(page: P) -> P:
    page.setModal(False)
    page.finished.connect(page.deleteLater)
    page.show()
    return page


def _listed(sentences: Iterable[str]) -> str:
    rows = "".join(f"<li style='margin-bottom: 6px'>{escape(each)}</li>" for each in sentences)
    return f"<ul style='margin-left: -16px'>{rows}</ul>"


def _groups(window: QWidget) -> Iterable[tuple[str, list[tuple[str, str]]]]:
    """Menus of the menu bar with their actions; then actions with a key that are in none."""
    told: set[int] = set()
    for menu in _menus(window):
        entries = list(_entries(menu))
        pairs = [_pair(action) for action in entries if _counts(action)]
        told |= {id(action) for action in entries}
        if pairs and menu.title():
            yield _plain(menu.title()), pairs
    loose = [
        _pair(action)
        for action in window.findChildren(QAction)
        if id(action) not in told and not action.shortcut().isEmpty() and action.text()
    ]
    if loose:
        yield "Elsewhere", loose


def _menus(window: QWidget) -> list[QMenu]:
    bar = window.menuBar() if isinstance(window, QMainWindow) else None
    found = [] if bar is None else [action.menu() for action in bar.actions()]
    return [menu for menu in found if menu is not None]


def _entries(menu: QMenu) -> Iterable[QAction]:
    """What a menu offers, and what has a key in the menus that it opens."""
    for action in menu.actions():
        yield action
        inner = action.menu()
        if inner is not None:
            yield from (each for each in _entries(inner) if not each.shortcut().isEmpty())


def _counts(action: QAction) -> bool:
    return bool(action.text()) and not action.isSeparator() and action.menu() is None


def _pair(action: QAction) -> tuple[str, str]:
    native = QKeySequence.SequenceFormat.NativeText
    keys = ", ".join(each.toString(native) for each in action.shortcuts())
    for key, word in ((STANDARD.Undo, "Undo"), (STANDARD.Redo, "Redo")):
        if action.shortcut() == QKeySequence(key):
            return keys, word  # the menu names the step as well
    return keys, _plain(action.text())


def _plain(text: str) -> str:
    return text.replace("&&", "\0").replace("&", "").replace("\0", "&").removesuffix(" ...")


def _rows(pairs: Iterable[tuple[str, str]]) -> str:
    return "".join(
        f"<tr><td><b>{escape(keys or 'in the menu')}</b>&nbsp;&nbsp;&nbsp;</td>"
        f"<td>{escape(text)}</td></tr>"
        for keys, text in pairs
    )
