"""One plain screen to show a customer what his shaft does: look, move, see, take a picture home.

Nothing of the rig can be changed here, and the pose is as before when it is left.
"""

from collections.abc import Callable, Iterator, Sequence
from datetime import date
from math import degrees, radians
from pathlib import Path
from time import perf_counter

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PyQt6.QtWidgets import QLabel, QMainWindow, QWidget

from sim.findings import Verdict
from viewer.draw.base import Image
from viewer.session.session import Session
from viewer.session.text.file_names import beside
from viewer.session.told.state_words import OLD, is_old
from viewer.window.customer.face import CustomerFace
from viewer.window.customer.parts import Mark, Showing, Still, ViewMaker, real_view
from viewer.window.customer.recording import Frame, Recording, Shot, Write, shots_of
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import Asker, Dialogs
from viewer.window.kit.pieces import unheard
from viewer.window.kit.theme import colours
from viewer.words.now import now_told, now_word
from viewer.words.poses import pose_words, travel_words
from viewer.words.verdicts import CAUTION, check_word, headline
from viewer.written.clip import Caption, save_captioned, save_clip
from viewer.written.outputs import CLIP, PICTURE

SLOW = 0.05
"""s. A frame that takes longer is drawn without the help of graphics hardware."""

NOTCH = 1.5875
"""mm of axle height a step of its slider: 1/16 in."""


class CustomerView(CustomerFace):
    """A whole screen for a customer.

    Signals
    -------
    left : it was closed.
    """

    left = pyqtSignal()

    def __init__(
        self,
        session: Session,
        parent: QWidget | None = None,
        make_view: ViewMaker = real_view,
        asker: Asker | None = None,
    ) -> None:
        super().__init__(session, parent, make_view)
        self.setWindowModality(Qt.WindowModality.ApplicationModal)
        self._ask = asker or Dialogs(self)
        motion = session.motion
        self._before = motion.at, motion.spin
        self._drive = motion.drive.name if motion.drive is not None else session.drives[0].name
        motion.stop()
        self.recording: Recording | None = None
        self._left = False
        # What this screen covers need not be drawn.
        self._covered = parent.centralWidget() if isinstance(parent, QMainWindow) else None
        if self._covered is not None:
            self._covered.setUpdatesEnabled(False)
        self.setWindowTitle(f"{session.document.rig.name} - Bindpoint")
        self.still = Still(self.view, self)
        self.film.setCurrentIndex(self.film.findData(self._drive))
        self._connect()
        # A shortcut, since the view keeps the keys it is given.
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self._on_escape)
        self.height_slider.setFocus()

    def _connect(self) -> None:
        self.picture.clicked.connect(self._save_picture)
        self.clip.clicked.connect(self._save_clip)
        self.stop.clicked.connect(self.stop_recording)
        self.leave.clicked.connect(self.close)
        self.height_slider.valueChanged.connect(self._on_height)
        self.turn_slider.valueChanged.connect(self._on_turn)
        session = self.session
        self.follow(
            (session.posed, self.refresh),
            (session.answered, self.refresh),
            (session.mapped, self._on_mapped),
        )

    # Showing the session

    @property
    def is_busy(self) -> bool:
        """Whether a picture or a clip is being made."""
        return self.recording is not None

    @property
    def makes_clip(self) -> bool:
        """Whether a clip is being made, which can be stopped."""
        return self.recording is not None and self.recording.is_clip

    def refresh(self) -> None:
        """Show the pose and what holds in it."""
        session = self.session
        for slider in (self.height_slider, self.turn_slider):
            slider.dress(colours(self))
        now, check, old = session.now, session.check, is_old(session)
        if now is None or check is None:
            self._tell(self.mark, self.word, None, "")
            self.says.setText("Computing ...")
        else:
            lead = f"{OLD}. " if old else ""
            self._tell(self.mark, self.word, now.verdict, now_word(now))
            self.says.setText(f"{lead}{now_told(now)}")
            said = f"Over the whole travel: {check_word(check).lower()}. {headline(check)}"
            self._tell(self.whole_mark, self.whole, check.verdict, f"{lead}{said}")
        fresh = session.answers.state == "fresh"
        self.note.setText("" if fresh else "This is not the newest answer: wait for it.")
        self.note.setVisible(not fresh)
        self._show_motion()
        self._enable(fresh and now is not None and now.reached)

    def _show_motion(self) -> None:
        motion = self.session.motion
        low, high = motion.bounds("travel")
        with unheard(self.height_slider, self.turn_slider):
            self.height_slider.setRange(round(low / NOTCH), round(high / NOTCH))
            self.height_slider.setValue(round(motion.at.travel / NOTCH))
            if round(degrees(motion.spin)) != self.turn_slider.value() % 360:
                self.turn_slider.setValue(round(degrees(motion.spin)))
        self.height_words.setText(travel_words(motion.at.travel))
        self.up.setText(travel_words(high))
        self.down.setText(travel_words(low))
        self.turn_words.setText(f"{degrees(motion.spin):.0f} deg")
        self.zones.update()
        self.zones_words.setText(f"colours: {self.zones.says()}")

    def _tell(self, mark: Mark, label: QLabel, verdict: Verdict | None, text: str) -> None:
        old, look = is_old(self.session), colours(self)
        mark.show_verdict(verdict, old)
        label.setText(text)
        if verdict is not None and label is self.word:
            label.setStyleSheet(f"color: {look.quiet if old else look.verdicts[verdict]}")

    def _enable(self, sound: bool) -> None:
        free = not self.is_busy
        for each in (self.picture, self.clip):
            each.setEnabled(free and sound)
        for slider in (self.height_slider, self.turn_slider, self.film):
            slider.setEnabled(free)
        self.progress.setVisible(self.makes_clip)
        self.stop.setVisible(self.makes_clip)

    def _on_mapped(self) -> None:
        self.zones.update()

    def _on_height(self, notches: int) -> None:
        low, high = self.session.motion.bounds("travel")
        ends = {self.height_slider.minimum(): low, self.height_slider.maximum(): high, 0: 0.0}
        self.session.motion.go(travel=ends.get(notches, notches * NOTCH))

    def _on_turn(self, turned: int) -> None:
        self.session.motion.go(spin=radians(turned))

    # Pictures and clips

    def caption(self) -> Caption:
        """Words under a picture of this pose. Raises RuntimeError while nothing is known."""
        now, check = self.session.now, self.session.check
        if now is None or check is None:
            raise RuntimeError("no picture: nothing is known of this pose yet")
        today = date.today()
        title = f"{self.session.document.rig.name} \N{BULLET} {today:%d %b %Y}"
        whole = check.verdict, check_word(check)
        return Caption(title, now.verdict, now_word(now), *whole, now_told(now), CAUTION)

    def _save_picture(self) -> None:
        path = self._ask_place("picture", pose_words(self.session.motion.at), ".png")
        if path is None:
            return
        view: Showing = self.view  # type: ignore[assignment]

        def write(frames: Iterator[Frame], *_: object) -> None:
            for frame, caption in frames:
                save_captioned(frame, caption, path)

        self._record((), view.finely, write, path)

    def _save_clip(self) -> None:
        name = str(self.film.currentData())
        path = self._ask_place("clip", name, ".gif")
        if path is None:
            return
        drive = next(drive for drive in self.session.drives if drive.name == name)
        shots = shots_of(self.session, drive)
        self.progress.setRange(0, len(shots))
        self.progress.setValue(0)
        self.done_words.setText("")
        self._record(shots, self._frame, lambda frames, *on: save_clip(frames, path, *on), path)
        self.stop.setFocus()

    def _record(
        self,
        shots: Sequence[Shot],
        draw: Callable[[], Iterator[Image | None]],
        write: Write,
        path: Path,
    ) -> None:
        self.recording = Recording(self.session, shots, draw, self.caption, write, self)
        self.recording.progressed.connect(self._on_progress)
        self.recording.ended.connect(lambda said: self._on_written(said, path))
        self.recording.start()
        self.refresh()

    def stop_recording(self) -> None:
        """Stop the clip that is being made; nothing is written."""
        if self.recording is not None:
            self.recording.cancel()

    def _on_progress(self, written: int, count: int) -> None:
        self.progress.setMaximum(count)
        self.progress.setValue(written)

    def _on_written(self, said: str, path: Path) -> None:
        stopped = self.recording is not None and self.recording.was_stopped
        if self.recording is not None:
            self.recording.deleteLater()
        self.recording = None
        self.still.hide()
        self.view.setUpdatesEnabled(True)
        done = "Stopped; nothing is written." if stopped else f"Saved {path.name}."
        self.done_words.setText(said or done)
        self.refresh()
        self.height_slider.setFocus()

    def _frame(self) -> Iterator[Image]:
        """One of a clip; it is made smaller as a rule, which smooths its edges."""
        view: Showing = self.view  # type: ignore[assignment]
        start = perf_counter()
        frame = view.snapshot()
        if perf_counter() - start > SLOW:
            # Each frame is drawn once then, for the clip only.
            self.view.setUpdatesEnabled(False)
        if not self.view.updatesEnabled():
            self.still.show_frame(frame)
        yield frame

    def _ask_place(self, what: str, about: str, ending: str) -> Path | None:
        place = beside(self.session.document, about, ending)
        kinds = f"{'Pictures' if ending == '.png' else 'Clips'} (*{ending})"
        kind = PICTURE if ending == ".png" else CLIP
        return place_to_save(self._ask, f"Save the {what}", place, kinds, ending, kind)

    # Leaving

    def _on_escape(self) -> None:
        """Stop a clip, or leave."""
        if self.makes_clip:
            self.stop_recording()
        else:
            self.close()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Let go of everything and put the axle back where it was."""
        super().closeEvent(event)
        if self._left:
            return
        self._left = True
        if self.recording is not None:
            self.recording.abandon()
        at, spin = self._before
        self.session.motion.go_to(at, spin)
        view: Showing = self.view  # type: ignore[assignment]
        view.shut()
        if self._covered is not None:
            self._covered.setUpdatesEnabled(True)
        self.left.emit()
        if self.parent() is not None:
            self.deleteLater()
