"""What lies on the bench, how it ended, and what can be done with its file."""

from collections.abc import Callable

from PyQt6.QtWidgets import QWidget

from viewer.session.why.room import WhyRoom
from viewer.window.kit.pieces import button, choosing, unheard
from viewer.window.why.files import InspectionFiles
from viewer.window.why.flow import flowing

CAME = (
    ("how it ended is not told", None, ""),
    ("it broke", "broke", "It came apart."),
    ("it wore out", "wore", "It is still in one piece, but done."),
    ("it still runs", "runs", "Brought in for noise or play."),
)


class BenchHead(QWidget):
    """Which joint it is and how it ended; its file, undo and redo.

    flush : takes what is being typed. shows : shows the joint to a customer.

    Attributes
    ----------
    joint, cross, came : which joint, which cross of a head, how it ended.
    undo, redo, fresh, open, save, customer : what can be done.
    """

    def __init__(
        self,
        room: WhyRoom,
        files: InspectionFiles,
        flush: Callable[[], None],
        shows: Callable[[], None],
    ) -> None:
        super().__init__()
        self.room, self._flush = room, flush
        self.joint = choosing("Which joint", "Which joint of this rig it is.")
        self.joint.activated.connect(self._on_joint)
        crosses = (("outer cross", "outer", ""), ("inner cross", "inner", ""))
        self.cross = choosing("Cross of the head", "", crosses)
        self.cross.activated.connect(self._on_cross)
        self.came = choosing("How it ended", "Broke and wore out are two stories.", CAME)
        self.came.activated.connect(self._on_came)
        self.undo = button("&Undo", "Takes the last step back.", self.take_back)
        self.redo = button("&Redo", "Brings it back.", self.bring_back)
        self.fresh = button("Ne&w", "Starts with nothing looked at.", files.new)
        self.open = button("&Open ...", "Opens an inspection file.", files.open)
        self.save = button("&Save", "Writes the inspection beside the rig.", files.save)
        tip = "Shows the joint on a whole screen, in plain words (F11)."
        self.customer = button("Customer &view", tip, shows)
        what = (self.joint, self.cross, self.came)
        does = (self.undo, self.redo, self.fresh, self.open, self.save, self.customer)
        flowing(self, *what, *does)

    def refresh(self) -> None:
        """Show which joint it is, how it ended, and what can be taken back."""
        room, file = self.room, self.room.file
        told = file.inspection
        with unheard(self.joint, self.cross, self.came):
            if [self.joint.itemData(i) for i in range(self.joint.count())] != list(room.joints):
                self.joint.clear()
                for joint in room.joints:
                    self.joint.addItem(f"{joint} joint", joint)
            self.joint.setCurrentIndex(self.joint.findData(room.joint))
            self.cross.setVisible(room.is_head)
            self.cross.setCurrentIndex(1 if told.head_cross == "inner" else 0)
            self.came.setCurrentIndex(max(0, self.came.findData(told.came)))
        self.undo.setEnabled(file.undo_name is not None)
        self.redo.setEnabled(file.redo_name is not None)
        self.undo.setToolTip(f"Takes back: {file.undo_name}" if file.undo_name else "")
        self.redo.setToolTip(f"Brings back: {file.redo_name}" if file.redo_name else "")

    def take_back(self) -> None:
        """Undo the last step."""
        self._flush()
        self.room.file.undo()

    def bring_back(self) -> None:
        """Do again what was undone."""
        self.room.file.redo()

    def _on_joint(self, _place: int) -> None:
        self.room.tell_of_all("joint", self.joint.currentData())

    def _on_cross(self, _place: int) -> None:
        self.room.tell_of_all("head_cross", self.cross.currentData())

    def _on_came(self, _place: int) -> None:
        self.room.tell_of_all("came", self.came.currentData())
