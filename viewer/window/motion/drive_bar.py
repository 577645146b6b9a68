"""Playing a drive: which one, how fast, and how far it has got."""

from PyQt6.QtCore import QElapsedTimer, Qt
from PyQt6.QtGui import QKeySequence, QResizeEvent
from PyQt6.QtWidgets import QComboBox, QGridLayout, QSizePolicy, QWidget

from viewer.session.moving.bind import BindDrive
from viewer.session.moving.drives import Drive
from viewer.session.session import Session
from viewer.session.told.drive_words import drive_words, press_words
from viewer.window.kit.pieces import (
    button,
    choosing,
    every,
    progress_bar,
    show_share,
    unheard,
    words,
)
from viewer.window.kit.plain_label import PlainLabel, plain_tip
from viewer.window.kit.theme import em

SPEEDS = {0.25: "quarter speed", 0.5: "half speed", 1.0: "full speed", 2.0: "twice as fast"}

EVERY = 33
"""ms between two steps: smoother than the eye follows, and time left to draw."""

LETTERS = 14
"""Letters of the drive that is chosen which are seen at least."""

TOLD = 3.2
"""Heights of a line for what a drive shows where it stands in lines of its own."""

LONGEST = 0.2
"""s. After a pause of the whole program the axle goes on from where it was, it does not jump."""


class DriveBar(QWidget):
    """Starts, pauses, pushes on and ends a drive, lets its time go by, and says what happens."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._clock = QElapsedTimer()
        self.timer = every(self, self._on_time, EVERY)
        tip = "To what was found, the worst first; then what an axle does on the road."
        self.choice = choosing("Drive to play", tip, (), self._on_choice)
        self.choice.setMinimumContentsLength(LETTERS)
        shrinks = QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        self.choice.setSizeAdjustPolicy(shrinks)
        self.play = button("", does=self._on_play)
        tip = "End the drive; the axle stays where it is."
        self.end = button("End", tip, session.motion.stop, "End the drive")
        speeds = ((said, factor, "") for factor, said in SPEEDS.items())
        tip = "How fast the drive goes by."
        self.speed = choosing("Speed of the drive", tip, speeds, self._on_speed)
        self.progress = progress_bar("How much of the drive is over")
        self.label = words("&Drive", self, wraps=False)
        self.label.setBuddy(self.choice)
        self.told = PlainLabel("", self)
        self.told.setAccessibleName("What the drive shows")
        self.told.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self._picked = False
        tip = "Put the axle at ride height, level, with no wrap."
        self.ride = button("&Back to ride height", tip, session.motion.go_home)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.progress.setMinimumWidth(round(5 * em(self)))
        self._narrow: bool | None = None
        self.arrange(narrow=False)

    def arrange(self, narrow: bool) -> None:
        """Stand in one line, or in three: which drive, how it plays, and how far it is."""
        if narrow == self._narrow:
            return
        self._narrow, grid = narrow, self._grid
        line = (
            *(self.label, self.choice, self.play, self.end, self.speed),
            *(self.progress, self.ride),
        )
        for old in (*line, self.told):
            grid.removeWidget(old)
        if narrow:
            grid.addWidget(self.label, 0, 0)
            grid.addWidget(self.choice, 0, 1, 1, 2)
            for column, press in enumerate((self.play, self.end, self.ride)):
                grid.addWidget(press, 1, column)
            grid.addWidget(self.progress, 2, 0, 1, 2)
            grid.addWidget(self.speed, 2, 2)
        else:
            for column, widget in enumerate(line):
                grid.addWidget(widget, 0, column)
        grid.addWidget(self.told, 3, 0, 1, 3 if narrow else len(line))
        self.told.setWordWrap(narrow)
        self.told.setMinimumHeight(round((TOLD if narrow else 1.0) * em(self)))
        grid.setColumnStretch(1, 1)

    def refresh(self) -> None:
        """Show what there is to play, what plays, and how far it is."""
        motion = self._session.motion
        drive = motion.drive
        self._list()
        with unheard(self.choice, self.speed):
            if drive is not None:
                self.choice.setCurrentIndex(self.choice.findData(drive.name))
            self.speed.setCurrentIndex(self.speed.findData(motion.speed))
        word, tip = press_words(motion) or ("Play", "Let the axle do this drive once.")
        self.play.setText(word)
        self.play.setShortcut(QKeySequence("Alt+Y"))
        self.play.setToolTip(f"{tip} Alt+Y does it too.")
        self.play.setAccessibleName(f"{word} the drive" if word == "Play" else word)
        self.end.setEnabled(drive is not None)
        self.refresh_progress()
        if motion.playing and not self.timer.isActive():
            self._clock.start()
            self.timer.start()
        elif not motion.playing:
            self.timer.stop()

    def _list(self) -> None:
        """List the drives anew where there are others; what was chosen stays if it is there."""
        drives = self._session.drives
        names = [drive.name for drive in drives]
        if names == [self.choice.itemData(row) for row in range(self.choice.count())]:
            return
        chosen = self.choice.currentData() if self._picked else None
        with unheard(self.choice):
            self.choice.clear()
            for row, drive in enumerate(drives):
                self.choice.addItem(drive.name, drive.name)
                tip = plain_tip(f"{drive.name.capitalize()}: {drive.says}.")
                self.choice.setItemData(row, tip, Qt.ItemDataRole.ToolTipRole)
            self.choice.setCurrentIndex(max(0, self.choice.findData(chosen)))
        width = max(self.choice.fontMetrics().horizontalAdvance(name) for name in names)
        view = self.choice.view()
        if view is not None:
            view.setMinimumWidth(width + round(2 * em(self)))

    @property
    def chosen(self) -> Drive:
        """The drive that plays, else the one that would."""
        name = self.choice.currentData()
        drives = self._session.drives
        return self._session.motion.drive or next(
            (drive for drive in drives if drive.name == name), drives[0]
        )

    def refresh_progress(self) -> None:
        """Show how far the drive is, and say what happens in it."""
        show_share(self.progress, self._session.motion.progress)
        said = drive_words(self._session, self.chosen)
        self.told.setAccessibleDescription(said)
        self.choice.setAccessibleDescription(said)
        self.told.setToolTip(plain_tip(said))
        room = max(0, self.told.width())
        elided = self.told.fontMetrics().elidedText(said, Qt.TextElideMode.ElideRight, room)
        shown = said if self._narrow else elided
        if shown != self.told.text():
            self.told.setText(shown)

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Say as much of what happens as there is room for."""
        super().resizeEvent(event)
        self.refresh_progress()

    def shut(self) -> None:
        """Let no more time go by."""
        self.timer.stop()

    def _on_time(self) -> None:
        self._session.motion.advance(min(LONGEST, self._clock.restart() / 1000.0))
        self.refresh_progress()

    def _on_play(self) -> None:
        motion = self._session.motion
        if motion.drive is None:
            self._begin()
        else:
            motion.pause()

    def _begin(self) -> None:
        """Play what is chosen; a drive to a finding chooses its joint as well."""
        drive = self.chosen
        if isinstance(drive, BindDrive):
            self._session.show_me(drive.finding)
        else:
            self._session.motion.play(drive)

    def _on_choice(self) -> None:
        motion = self._session.motion
        self._picked, playing = True, motion.drive is not None
        motion.stop()
        motion.said = ""
        if playing:
            self._begin()
        self.refresh_progress()

    def _on_speed(self) -> None:
        self._session.motion.speed = self.speed.currentData()
