"""Writing pictures and clips of the view while the window goes on.

Frames are drawn one at a time between events, since drawing belongs to the window's own thread;
words, colours and the file are the work of another thread.
"""

import threading
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from queue import Queue
from typing import NamedTuple

from PyQt6.QtCore import QObject, pyqtSignal

from geometry.errors import BindpointError
from sim.findings import Finding
from sim.vehicle import RIDE, Pose
from viewer.draw.base import Image
from viewer.session.moving.bind import BindDrive
from viewer.session.moving.drives import Drive
from viewer.session.session import Session
from viewer.window.kit.pieces import every, once
from viewer.words.drives import gap_line
from viewer.written.caption import Caption
from viewer.written.clip import FRAME_TIME, ClipStoppedError


class Shot(NamedTuple):
    """One frame of a clip.

    Attributes
    ----------
    at, spin : the pose of the axle, and the turn of the shaft in it, rad.
    note : what is said of the drive in it.
    about : the finding that the drive is made for.
    times : how many frames it stands still for.
    """

    at: Pose
    spin: float
    note: str = ""
    about: Finding | None = None
    times: int = 1


HOLD, LAST = 1.5, 1.0
"""s that a clip stands still at contact, and at its end."""

Frame = tuple[Image, Caption]
Write = Callable[[Iterator[Frame], Callable[[int], None], Callable[[], bool]], object]

BEAT = 5
"""ms between looks whether there is something to do."""

TOLD = 20
"""Times that the progress of a clip is told."""

AHEAD = 3
"""Frames that wait to be written at most."""


def shots_of(session: Session, drive: Drive, frame_time: int = FRAME_TIME) -> list[Shot]:
    """Poses of a drive from ride height, one for each `frame_time` ms, and what is said in each.

    A drive to a finding stands still for a while where it stops, and goes on to its end.
    """
    motion = session.motion
    begun = (motion.at, motion.spin) if drive.stays else START
    course = drive.course(*begun, motion.box, motion.front)
    finding = drive.finding if isinstance(drive, BindDrive) else None
    title = session.left_out(drive) or f"{drive.name[:1].upper()}{drive.name[1:]}."
    stop, step = course.arrives, frame_time / 1000.0

    def frames(start: float, end: float, note: str) -> list[Shot]:
        count = max(1, round((end - start) / step))
        times = [start + (end - start) * number / count for number in range(1, count + 1)]
        return [Shot(*motion.on(course, begun, time), note, finding) for time in times]

    def still(time: float, lasts: float, note: str) -> list[Shot]:
        return [Shot(*motion.on(course, begun, time), note, finding, round(lasts / step))]

    shots = [Shot(*begun, title, finding)]
    if stop is None or finding is None:
        return shots + frames(0.0, course.seconds, title)
    met = finding.verdict == "touches"
    shots += frames(0.0, stop, title)[:-1]
    shots += still(stop, HOLD if met else LAST, drive.stopped_says() if met else title)
    if stop < course.seconds:
        shots += frames(stop, course.seconds, "Pushed on past first contact.")[:-1]
        shots += still(course.seconds, LAST, drive.ended_says())
    return shots


START = RIDE, 0.0
"""Where a clip begins."""


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
    """A picture or a clip being made; the pose is the one it was at the end.

    shots : poses of a clip; of a picture none, it is of the pose as it is.
    draw : draws what is seen, after some steps of None.
    write : writes frames as they come, in a thread. It is given what hears how many are written,
        and what tells whether to stop.

    Signals
    -------
    progressed : frames written, and how many there are to be.
    ended : "" when it is written, else why not; "" too when it was cancelled.
    """

    progressed = pyqtSignal(int, int)
    ended = pyqtSignal(str)

    def __init__(
        self,
        session: Session,
        shots: Sequence[Shot],
        draw: Callable[[], Iterator[Image | None]],
        caption: Callable[[], Caption],
        write: Write,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self._session = session
        self._shots = shots
        self._draw = draw
        self._caption = caption
        self._write = write
        self._frames: Queue[Frame | None] = Queue()
        self._stop = threading.Event()
        self._at, self._spin = session.motion.at, session.motion.spin
        self._written, self._told = 0, -1
        self._writing = Writing(self._save, self)
        self._writing.ended.connect(self._on_ended)
        self._drawing = Unhurried(self._drawn(), self)
        self._drawing.ended.connect(self.cancel)  # before all is written only by a fault

    @property
    def is_clip(self) -> bool:
        """Whether it takes a while, and can be stopped."""
        return bool(self._shots)

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
        """Stop at once and tell nothing more; a picture that is drawn is still written."""
        if self.is_clip:
            self._stop.set()
        self._frames.put(None)
        self._drawing.stop()
        self._writing.wait()
        self._restore()

    def _drawn(self) -> Iterator[None]:
        """Pose, measure and draw one frame after the other, unless enough of them wait."""
        for shot in self._shots or (None,):
            while self._frames.qsize() >= AHEAD and not self._stop.is_set():
                self._tell()
                yield
            if self._stop.is_set():
                return
            if shot is not None:
                self._session.motion.go_to(shot.at, shot.spin)
                yield
            yield from settled(self._session)
            for frame in self._draw():
                if frame is not None:
                    for _ in range(1 if shot is None else shot.times):
                        self._frames.put((frame, self._captioned(shot)))
                    self._tell()
                yield
        self._frames.put(None)
        while not self._stop.is_set():
            self._tell()
            yield

    def _captioned(self, shot: Shot | None) -> Caption:
        """Words under a frame, with what its drive says."""
        caption, now = self._caption(), self._session.now
        if shot is None or now is None:
            return caption
        gap = gap_line(now, shot.about)
        name = caption.sides[0].name  # of two it is the left one whose drive it is
        gap = f"{name}: {gap}" if gap and name else gap
        return replace(caption, gap=gap, note=shot.note)

    def _tell(self) -> None:
        """Tell how far it is, now and then: showing that draws the whole window."""
        count = sum(shot.times for shot in self._shots)
        if self._written >= self._told + count / TOLD or self._told < 0:
            self._told = self._written
            self.progressed.emit(self._written, count)

    def _save(self) -> None:
        try:
            self._write(iter(self._frames.get, None), self._on_done, self._stop.is_set)
        except ClipStoppedError:
            return

    def _on_done(self, written: int) -> None:
        self._written = written

    def _on_ended(self, said: str) -> None:
        self._drawing.stop()
        self._restore()
        self.ended.emit(said)

    def _restore(self) -> None:
        if self.is_clip:
            self._session.motion.go_to(self._at, self._spin)
