"""Writing pictures and clips of the view while the window goes on.

Frames are drawn one at a time between events, since drawing belongs to the window's own thread;
words, colours and the file are the work of another thread.
"""

import threading
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from queue import Queue
from time import perf_counter

from PyQt6.QtCore import QObject, pyqtSignal

from geometry.errors import BindpointError
from sim.vehicle import Pose
from viewer.draw.base import Image
from viewer.session.moving.drives import Drive
from viewer.session.session import Session
from viewer.window.kit.pieces import every, once
from viewer.written.clip import FRAME_TIME, Caption, ClipStoppedError, save_clip

SLOW = 0.05
"""s. A frame that takes longer is drawn without the help of graphics hardware."""

Shot = tuple[Pose, float]
"""A pose of the axle, and the turn of the shaft in it, rad."""

BEAT = 5
"""ms between looks whether there is something to do."""

TOLD = 20
"""Times that the progress of a clip is told."""

AHEAD = 3
"""Frames that wait to be written at most."""


def shots_of(session: Session, drive: Drive, frame_time: int = FRAME_TIME) -> list[Shot]:
    """Poses of a drive, one for each `frame_time` ms."""
    motion = session.motion
    count = max(2, round(1000.0 * drive.seconds / frame_time))
    times = [drive.seconds * number / (count - 1) for number in range(count)]
    return [
        (
            motion.at if drive.stays else drive.pose(time, motion.box, motion.front),
            drive.spin(time),
        )
        for time in times
    ]


def settled(session: Session) -> Iterator[None]:
    """Find the gaps of this pose, so that a picture shows them: one short piece each time."""
    now = session.now
    for _ in range(0 if now is None else len(now.joints) + 1):
        if now is None or len(session.gaps) >= len(now.joints) or not session.idle():
            return
        yield


class Unhurried(QObject):
    """Steps of some work, one between the events.

    Signals
    -------
    ended : the last step is done, or a fault has ended them, which goes on to whoever catches it.
    """

    ended = pyqtSignal()

    def __init__(self, steps: Iterator[None], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._steps = steps
        self._timer = once(self, self._step, BEAT)

    def start(self) -> None:
        """Begin with the next event."""
        self._timer.start()

    def stop(self) -> None:
        """Do no more; `ended` is not told."""
        self._timer.stop()

    def _step(self) -> None:
        more = False
        try:
            more = next(self._steps, self) is not self
        finally:
            if more:
                self._timer.start()
            else:
                self.ended.emit()


class Writing(QObject):
    """Something written in a thread.

    Signals
    -------
    ended : "" when it is written, else why not, in a line.
    """

    ended = pyqtSignal(str)

    def __init__(self, write: Callable[[], object], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._write = write
        self._said: str | None = None
        self._thread = threading.Thread(target=self._run, name="writing", daemon=True)
        self._timer = every(self, self._look, BEAT)

    def start(self) -> None:
        """Begin."""
        self._thread.start()
        self._timer.start()

    def wait(self) -> None:
        """Wait until the thread is over; nothing is told afterwards."""
        self._timer.stop()
        if self._thread.is_alive():
            self._thread.join()

    def _run(self) -> None:
        said = "a fault of the program"
        try:
            self._write()
            said = ""
        except BindpointError as error:
            said = str(error)
        finally:
            self._said = said

    def _look(self) -> None:
        if not self._thread.is_alive():
            self._timer.stop()
            self.ended.emit(self._said or "")


class Recording(QObject):
    """A clip being made; the pose is the one it was at the end.

    Signals
    -------
    progressed : frames written, and how many there are to be.
    drawn_slowly : a frame took long to draw; whoever shows the view may show it less often.
    ended : "" when the clip is written, else why not; "" too when it was cancelled.
    """

    progressed = pyqtSignal(int, int)
    drawn_slowly = pyqtSignal()
    ended = pyqtSignal(str)

    def __init__(
        self,
        session: Session,
        shots: Sequence[Shot],
        snapshot: Callable[[], Image],
        caption: Callable[[], Caption],
        path: Path,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._shots = shots
        self._snapshot = snapshot
        self._caption = caption
        self._frames: Queue[tuple[Image, Caption] | None] = Queue()
        self._stop = threading.Event()
        self._at, self._spin = session.motion.at, session.motion.spin
        self._written, self._told = 0, -1
        self._writing = Writing(lambda: self._save(path), self)
        self._writing.ended.connect(self._on_ended)
        self._drawing = Unhurried(self._drawn(), self)

    @property
    def was_stopped(self) -> bool:
        """Whether it was cancelled."""
        return self._stop.is_set()

    def start(self) -> None:
        """Begin; the axle moves from now on."""
        self._session.motion.stop()
        self._writing.start()
        self._drawing.start()

    def cancel(self) -> None:
        """Stop and write nothing; `ended` follows."""
        self._stop.set()
        self._frames.put(None)

    def abandon(self) -> None:
        """Stop at once and tell nothing more."""
        self.cancel()
        self._drawing.stop()
        self._writing.wait()
        self._restore()

    def _drawn(self) -> Iterator[None]:
        """Pose, measure and draw one frame after the other, unless enough of them wait."""
        for shot in self._shots:
            while self._frames.qsize() >= AHEAD and not self._stop.is_set():
                self._tell()
                yield
            if self._stop.is_set():
                return
            self._session.motion.go_to(*shot)
            yield
            yield from settled(self._session)
            start = perf_counter()
            frame = self._snapshot()
            if perf_counter() - start > SLOW:
                self.drawn_slowly.emit()
            self._frames.put((frame, self._caption()))
            self._tell()
            yield
        self._frames.put(None)
        while not self._stop.is_set():
            self._tell()
            yield

    def _tell(self) -> None:
        """Tell how far it is, now and then: showing that draws the whole window."""
        if self._written >= self._told + len(self._shots) / TOLD or self._told < 0:
            self._told = self._written
            self.progressed.emit(self._written, len(self._shots))

    def _save(self, path: Path) -> None:
        try:
            save_clip(iter(self._frames.get, None), path, self._on_done, self._stop.is_set)
        except ClipStoppedError:
            return

    def _on_done(self, written: int) -> None:
        self._written = written

    def _on_ended(self, said: str) -> None:
        self._drawing.stop()
        self._restore()
        self.ended.emit(said)

    def _restore(self) -> None:
        self._session.motion.go_to(self._at, self._spin)
