"""Pictures of what is seen, saved or copied, with the rig, the date and the caution under them."""

from collections.abc import Callable
from typing import Protocol, runtime_checkable

from PIL.Image import Image as Page
from PyQt6.QtCore import QObject, Qt, pyqtSignal
from PyQt6.QtGui import QGuiApplication, QImage
from PyQt6.QtWidgets import QApplication, QMenu, QWidget

from geometry.errors import BindpointError
from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.session.text.file_names import beside
from viewer.session.told.picture_words import picture_caption
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import Asker
from viewer.window.kit.painting import pixels
from viewer.window.kit.pieces import entry
from viewer.words.poses import pose_words
from viewer.written.caption import captioned, save_captioned
from viewer.written.outputs import PICTURE

NOTHING = "There is no picture yet: it comes with the answer."


@runtime_checkable
class Pictured(Protocol):
    """A panel that draws its picture by itself."""

    def picture(self) -> Image | None:
        """What is seen, (height, width, 3); None while there is nothing."""


class PictureActions(QObject):
    """Saves and copies pictures of some panels: of the one with the focus, or of the first.

    Attributes
    ----------
    save, copy : what menus offer; a right click on any of the panels does too.

    Signals
    -------
    told : something to show in passing, such as "Saved".
    """

    told = pyqtSignal(str)

    def __init__(
        self, session: Session, asker: Asker, panels: dict[str, QWidget], menu: QMenu
    ) -> None:
        super().__init__(menu)
        self._session, self._ask, self._panels = session, asker, panels
        self.save = entry(menu, "Sa&ve a picture ...", self._save, "Ctrl+Shift+P")
        self.copy = entry(menu, "Cop&y the picture", self._copy, "Ctrl+Shift+C")
        for panel in panels.values():
            panel.addActions([self.save, self.copy])
            if not isinstance(panel, Pictured):  # those offer more, by themselves
                panel.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def _of(self) -> tuple[str, QWidget]:
        """The panel that is meant, by its name."""
        focus = QApplication.focusWidget()
        within = (
            (name, panel)
            for name, panel in self._panels.items()
            if focus is not None and (panel is focus or panel.isAncestorOf(focus))
        )
        return next(within, next(iter(self._panels.items())))

    def _with_picture(self, does: Callable[[str, Image], str]) -> None:
        """Do something with the picture of the panel that is meant, and say what came of it."""
        name, panel = self._of()
        image = panel.picture() if isinstance(panel, Pictured) else pixels(panel.grab().toImage())
        if image is None or self._session.now is None:
            self.told.emit(NOTHING)
            return
        if said := does(name, image):
            self.told.emit(said)

    def _save(self) -> None:
        self._with_picture(self._write)

    def _write(self, name: str, image: Image) -> str:
        about = f"{name} {pose_words(self._session.motion.at)}"
        suggestion = beside(self._session.document, about, ".png")
        place = place_to_save(
            self._ask, "Save the picture", suggestion, "Pictures (*.png)", ".png", PICTURE
        )
        if place is None:
            return ""
        try:
            save_captioned(image, picture_caption(self._session), place)
        except BindpointError as error:
            return f"Not saved: {error}."
        return f"Saved {place}."

    def _copy(self) -> None:
        self._with_picture(self._put)

    def _put(self, name: str, image: Image) -> str:
        board = QGuiApplication.clipboard()
        if board is not None:
            board.setImage(_image(captioned(image, picture_caption(self._session))))
        return f"Copied: the {name}, with its words."


def _image(page: Page) -> QImage:
    """A page as Qt has pictures."""
    data = page.convert("RGB").tobytes()
    form = QImage.Format.Format_RGB888
    return QImage(data, page.width, page.height, 3 * page.width, form).copy()
