"""Playing a drive: which one, how fast, and how far it has got."""

from PyQt6.QtCore import QElapsedTimer, Qt
from PyQt6.QtGui import QKeySequence, QResizeEvent
from PyQt6.QtWidgets import QGridLayout, QWidget

from viewer.session.moving.drives import DRIVES
from viewer.session.session import Session
from viewer.window.kit.pieces import (
    button,
    choosing,
    every,
    progress_bar,
    show_share,
    unheard,
    words,
)
from viewer.window.kit.theme import em

SPEEDS = {0.25: "quarter speed", 0.5: "half speed", 1.0: "full speed", 2.0: "twice as fast"}

EVERY = 33
"""ms between two steps: smoother than the eye follows, and time left to draw."""

LONGEST = 0.2
"""s. After a pause of the whole program the axle goes on from where it was, it does not jump."""


class DriveBar(QWidget):
    """Starts, pauses and ends a drive, and lets its time go by."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._clock = QElapsedTimer()
        self.timer = every(self, self._on_time, EVERY)
        drives = ((name, name, drive.says) for name, drive in DRIVES.items())
        tip = "What the axle and the shaft do over a few seconds on the road."
        self.choice = choosing("Drive to play", tip, drives, self._on_choice)
        self.play = button("", does=self._on_play)
        tip = "End the drive; the axle stays where it is."
        self.end = button("End", tip, session.motion.stop, "End the drive")
        speeds = ((said, factor, "") for factor, said in SPEEDS.items())
        tip = "How fast the drive goes by."
        self.speed = choosing("Speed of the drive", tip, speeds, self._on_speed)
        self.progress = progress_bar("How much of the drive is over")
        self.label = words("&Drive", self, wraps=False)
        self.label.setBuddy(self.choice)
        tip = "Put the axle at ride height, level and unwrapped."
        self.ride = button("&Back to ride height", tip, session.motion.go_home)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self.progress.setMinimumWidth(round(9 * em(self)))
        self._narrow: bool | None = None
        self.arrange(narrow=False)

    def arrange(self, narrow: bool) -> None:
        """Stand in one line, or with the progress and the way back to ride height below."""
        if narrow == self._narrow:
            return
        self._narrow, grid = narrow, self._grid
        controls = (self.label, self.choice, self.play, self.end, self.speed)
        for old in (*controls, self.progress, self.ride):
            grid.removeWidget(old)
        for column, widget in enumerate(controls):
            grid.addWidget(widget, 0, column)
        if narrow:
            grid.addWidget(self.progress, 1, 0, 1, 3)
            grid.addWidget(self.ride, 1, 3, 1, 2)
        else:
            grid.addWidget(self.progress, 0, 5)
            grid.addWidget(self.ride, 0, 6)
        grid.setColumnStretch(1, 1 if narrow else 0)
        grid.setColumnStretch(5, 0 if narrow else 1)

    def refresh(self) -> None:
        """Show what plays, and how far it is."""
        motion = self._session.motion
        drive = motion.drive
        with unheard(self.choice, self.speed):
            if drive is not None:
                self.choice.setCurrentIndex(self.choice.findData(drive.name))
            self.speed.setCurrentIndex(self.speed.findData(motion.speed))
        word, tip = "Play", "Let the axle do this drive once."
        if motion.playing:
            word, tip = "Pause", "Hold the axle here."
        elif drive is not None:
            word, tip = "Go on", "Go on with the drive."
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

    def refresh_progress(self) -> None:
        """Show how far the drive is and what happens in it."""
        motion = self._session.motion
        drive = motion.drive or DRIVES[self.choice.currentData()]
        show_share(self.progress, motion.progress)
        self.progress.setToolTip(f"{drive.name.capitalize()}: {drive.says}.")
        room = self.progress.width() - round(1.0 * em(self))
        metrics = self.progress.fontMetrics()
        self.progress.setFormat(metrics.elidedText(drive.says, Qt.TextElideMode.ElideRight, room))

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
            motion.play(self.choice.currentData())
        else:
            motion.pause()

    def _on_choice(self) -> None:
        if self._session.motion.drive is not None:
            self._session.motion.play(self.choice.currentData())
        self.refresh_progress()

    def _on_speed(self) -> None:
        self._session.motion.speed = self.speed.currentData()
