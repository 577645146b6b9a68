"""What a right click on a part offers: to hide it, to see through it, to be told what it is."""

from collections.abc import Callable, Sequence

from PyQt6.QtGui import QAction
from PyQt6.QtWidgets import QMenu, QWidget

from viewer.window.kit.pieces import entry
from viewer.window.view.bar import FAINT, HIDDEN, SEEN, ViewBar


class PartMenu(QMenu):
    """The menu over a part, or over none.

    whole : the part as the bar lists it; "" for none. title : what it is called.
    tell : tells what it is. more : what else can be done there.
    """

    def __init__(
        self,
        bar: ViewBar,
        whole: str,
        title: str,
        tell: Callable[[], object],
        more: Sequence[QAction],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        if whole:
            self.addSection(title)
            entry(self, "What it &is", tell)
            entry(self, "&Hide it\tH", lambda: bar.set_part(whole, HIDDEN))
            entry(self, "Make it &glass\tG", lambda: bar.set_part(whole, FAINT))
            entry(self, "Make it &solid", lambda: bar.set_part(whole, SEEN))
        entry(self, "Bring &all back\tA", bar.show_everything)
        if more:
            self.addSeparator()
            self.addActions(list(more))
