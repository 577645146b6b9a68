"""One plain screen to show a customer what his shaft does: look, move, see, take a picture home.

It opens on the joint that is tightest, where it is worst. A cure that is tried here is kept only if
that is asked for; else rig and pose are as before when it is left.
"""

from collections.abc import Callable, Iterator, Sequence
from functools import partial
from pathlib import Path
from time import perf_counter

from PyQt6.QtCore import Qt, pyqtSignal
from PyQt6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PyQt6.QtWidgets import QMainWindow, QWidget

from sim.vehicle import RIDE, Pose
from viewer.draw.base import Image
from viewer.live.near_marks import chosen_thing
from viewer.live.sight import NEAR, SLIP
from viewer.session.beside import Beside
from viewer.session.session import Session
from viewer.session.text.file_names import beside
from viewer.session.told.picture_words import basis_notes, cure_note, picture_side, picture_title
from viewer.window.customer.controls import Moves
from viewer.window.customer.face import CustomerFace
from viewer.window.customer.parts import Coverable, ViewMaker, real_view
from viewer.window.customer.recording import Frame, Recording, Shot, Write, settled, shots_of
from viewer.window.customer.still import Still
from viewer.window.files.places import place_to_save
from viewer.window.kit.asker import Answer, Asker, Dialogs
from viewer.window.kit.follower import Links
from viewer.window.kit.pieces import every, unheard
from viewer.window.kit.plain_label import plain_tip
from viewer.window.kit.pump import Pump
from viewer.words.poses import pose_words
from viewer.words.verdicts import CAUTION
from viewer.written.caption import Caption, save_captioned
from viewer.written.clip import FRAME_TIME, save_clip
from viewer.written.outputs import CLIP, PICTURE

SLOW = 0.05
"""s. A frame that takes longer is drawn without the help of graphics hardware."""

EVERY, LONGEST = 33, 0.2
"""ms between two steps of a drive of the version put aside, and s that one of them is at most."""

AS_IS, CURED = "As it is", "With the cure"
TOGETHER = "Each is as near to the same position as its axle gets."
"""What is said of two pictures, also of those of a clip, whose words must stand still."""

BEFORE, NOW = "Before", "Now"
"""Names of two versions: with a cure, and with whatever else was changed."""


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
        both: bool = False,
    ) -> None:
        """Open it, close to what is worst; with `both` beside the version put aside."""
        self._before = session.motion.at, session.motion.spin
        self._chosen = session.chosen, session.finding
        self._playing = session.motion.drive
        session.motion.stop()
        # What this screen covers need not be drawn, and looks on at what it looked at.
        self._covered = parent.centralWidget() if isinstance(parent, QMainWindow) else None
        _cover(self._covered, on=True)
        both = both and session.other is not None
        if not both and session.motion.at == RIDE:
            _go_to_worst(session)
        super().__init__(session, parent, make_view)
        self.setWindowModality(Qt.WindowModality.ApplicationModal)
        self._ask = asker or Dialogs(self)
        self._other_before = session.other
        self._tried = 0
        """Cures that were tried here, each of which one undo takes back."""
        self.twins: Beside | None = None
        self._pump: Pump | None = None
        self._twin_links = Links()
        self._since = 0.0
        self.recording: Recording | None = None
        self._left = False
        self.setWindowTitle(f"{session.document.rig.name} - Bindpoint")
        self.still = Still(self.pictures, self)
        self._clock = every(self, self._let_time_go, EVERY)
        self._connect()
        # A shortcut, since the view keeps the keys it is given.
        QShortcut(QKeySequence(Qt.Key.Key_Escape), self, self._on_escape)
        self.controls["travel"].slider.setFocus()
        self._look_at_tightest()
        if both:
            self.show_both()

    def offer_joint(self, shows: Callable[[], object]) -> None:
        """Offer the joint that failed, on a screen of its own."""
        self.joint.clicked.connect(lambda _on: shows())
        self.joint.show()

    def _connect(self) -> None:
        self.picture.clicked.connect(self._save_picture)
        self.clip.clicked.connect(self._save_clip)
        self.stop.clicked.connect(self.stop_recording)
        self.leave.clicked.connect(self.close)
        self.ride.clicked.connect(self._go_home)
        self.show_me.clicked.connect(self._on_show_me)
        self.cures.clicked.connect(self._on_cures)
        self.beside.toggled.connect(self._on_beside)
        self.keep.clicked.connect(self._keep_cure)
        self.undo.clicked.connect(self._leave_as_it_was)
        self.offers.wanted.connect(self._try_cure)
        session = self.session
        self.follow(
            (session.posed, self.refresh),
            (session.answered, self.refresh),
            (session.compared, self.refresh),
            (session.mapped, self._on_mapped),
            (session.motion.played, self._show_drive),
        )

    def _look_at_tightest(self) -> None:
        """Begin with everything that is built already, close to where it is tightest."""
        session, view = self.session, self.pictures.view
        if session.check is None:
            return
        view.fill()
        what = _looked_at(session)
        if what != SLIP:
            session.measure(session.strip_joint)
        view.look_at(what)

    # Showing the session

    @property
    def is_busy(self) -> bool:
        """Whether a picture or a clip is being made."""
        return self.recording is not None

    @property
    def makes_clip(self) -> bool:
        """Whether a clip is being made, which can be stopped."""
        return self.recording is not None and self.recording.is_clip

    @property
    def moves(self) -> Moves:
        """What the controls move."""
        return self.session.motion if self.twins is None else self.twins

    @property
    def stage(self) -> Session:
        """Whose drives are played: those of the version put aside where both are seen."""
        return self.session if self.twins is None else self.twins.before

    @property
    def sides(self) -> tuple[tuple[str, Session], ...]:
        """What is seen, from the left, each with its name."""
        if self.twins is None:
            return (("", self.session),)
        names = self._names()
        return (names[0], self.twins.before), (names[1], self.session)

    def _names(self) -> tuple[str, str]:
        found = self.session.cures.answer
        tried = None if found is None else found.tried(self.session.document.text)
        return (BEFORE, NOW) if tried is None else (AS_IS, CURED)

    def refresh(self) -> None:
        """Show the pose and what holds in it."""
        session = self.session
        self.pictures.refresh()
        fresh = session.answers.state == "fresh"
        self.note.setVisible(not fresh)
        apart = None if self.twins is None else self.twins.apart
        if apart is not None:
            one, two = self._names()
            self.apart.setText(
                f"Not in one position, since they do not go as far: {one.lower()} at {apart[0]}, "
                f"{two.lower()} at {apart[1]}."
            )
        self.apart.setVisible(apart is not None)
        for control in self.controls.values():
            control.refresh()
        self._show_zones()
        self._show_choices()
        self._show_drive()
        sound = fresh and all(each.now is not None and each.now.reached for _, each in self.sides)
        self._enable(sound)

    def _show_zones(self) -> None:
        zones = self.controls["travel"].zones
        if zones is None:
            return
        zones.show_of(*(each for _, each in self.sides))
        both = "" if self.twins is None else "upper: before; lower: after; "
        self.zones_words.setText(f"colors: {both}{zones.says()}")
        self.zones_words.setToolTip(zones.toolTip())

    def _show_choices(self) -> None:
        """Offer what can be done next, and list what can be filmed."""
        session, check = self.session, self.session.check
        offers = self.stack.currentWidget() is self.offers
        self.cures.setText("Bac&k to the controls" if offers else "What would c&ure it?")
        wanted = check is not None and check.verdict != "clear"
        self.cures.setVisible(offers or wanted or bool(self._tried))
        self.beside.setVisible(session.other is not None)
        for each in (self.keep, self.undo):
            each.setVisible(bool(self._tried))
        drives = self.stage.drives
        if [drive.name for drive in drives] != self._films():
            playing = None if self._playing is None else self._playing.name
            with unheard(self.film):
                self.film.clear()
                for drive in drives:
                    self.film.addItem(f"{drive.name[:1].upper()}{drive.name[1:]}", drive.name)
                    tip = Qt.ItemDataRole.ToolTipRole
                    whole = plain_tip(f"{drive.name.capitalize()}: {drive.says}.")
                    self.film.setItemData(self.film.count() - 1, whole, tip)
                self.film.setCurrentIndex(max(0, self.film.findData(playing)))

    def _films(self) -> list[str]:
        return [str(self.film.itemData(row)) for row in range(self.film.count())]

    def _show_drive(self) -> None:
        """Say what the large button does now, and what the drive said."""
        motion = self.stage.motion
        text = "Push o&n" if motion.stands else "&Stop" if motion.playing else "&Show me"
        self.show_me.setText(text)
        self.told.setText(motion.said)
        self.told.setVisible(bool(motion.said))
        self.show_me.setEnabled(bool(self.stage.binds) and not self.is_busy)
        if self.twins is not None and motion.playing and not self._clock.isActive():
            self._since = perf_counter()
            self._clock.start()

    def _enable(self, sound: bool) -> None:
        free = not self.is_busy
        for each in (self.picture, self.clip):
            each.setEnabled(free and sound)
        for control in self.controls.values():
            control.setEnabled(free)
        others = (
            self.film,
            self.ride,
            self.cures,
            self.beside,
            self.joint,
            self.keep,
            self.undo,
            self.offers,
        )
        for widget in others:
            widget.setEnabled(free)
        self.progress.setVisible(self.makes_clip)
        self.stop.setVisible(self.makes_clip)

    def _on_mapped(self) -> None:
        self._show_zones()

    def _go_home(self) -> None:
        self.moves.go_home()

    # Show me

    def _on_show_me(self) -> None:
        """Play the drive to the bind, stop it, or push it on from where it stopped."""
        motion = self.stage.motion
        if motion.stands:
            motion.push_on()
        elif motion.playing:
            motion.stop()
        else:
            self.stage.show_me()

    def _let_time_go(self) -> None:
        """Let a drive of the version put aside go on; the window does that for its own."""
        motion, now = self.stage.motion, perf_counter()
        if self.twins is None or not motion.playing:
            self._clock.stop()
            return
        motion.advance(min(now - self._since, LONGEST))
        self._since = now

    # Cures, before and after

    def _on_cures(self) -> None:
        there = self.stack.currentWidget() is self.offers
        self.stack.setCurrentIndex(0 if there else 1)
        self._show_choices()

    def _try_cure(self, place: int) -> None:
        """Put a cure into the rig, and show it beside the rig as it is."""
        session = self.session
        spin, at = session.motion.spin, self._at
        if session.other is None:
            session.put_aside("before the cure")
        session.try_cure(place)
        self._tried += 1
        if self.twins is None:
            self.show_both(at, spin)
        else:
            self.twins.go(travel=at.travel, roll=at.roll, wrap=at.wrap, spin=spin)
            self.pictures.name(self._names())
        self.refresh()

    @property
    def _at(self) -> Pose:
        """Where the controls are."""
        return Pose(*(self.moves.value(axis) for axis in ("travel", "roll", "wrap")))

    def _on_beside(self, on: bool) -> None:
        if on:
            self.show_both(self._at, self.session.motion.spin)
        else:
            self._show_one()
        self.refresh()

    def show_both(self, at: Pose | None = None, spin: float = 0.0) -> None:
        """Show the version put aside beside the rig as it stands, if there is one, in a pose.

        Without one that is where the axle is; from ride height it goes where that version is worst.
        """
        session = self.session
        if session.other is None or self.twins is not None:
            return
        if at is None:
            at, spin = session.motion.at, session.motion.spin
        session.motion.stop()
        self.twins = twins = Beside(session, session.other, at, spin)
        before = twins.before
        before.choose(session.chosen, session.finding)
        if at == RIDE:
            _go_to_worst(before)
            session.choose(before.chosen, before.finding)
        self._pump = Pump(before, self)
        self._twin_links = Links(
            (before.posed, self.refresh),
            (before.mapped, self._on_mapped),
            (before.motion.played, self._show_drive),
            (before.chose, partial(_choose_alike, before, session)),
            (session.chose, partial(_choose_alike, session, before)),
        )
        for control in self.controls.values():
            control.move_with(twins)
        self.pictures.put_beside(before, self._names())
        self.pictures.keep_room()
        with unheard(self.beside):
            self.beside.setChecked(True)

    def _show_one(self) -> None:
        """Show the rig as it stands alone."""
        if self.twins is None or self._pump is None:
            return
        self._twin_links.let_go()
        self._clock.stop()
        self._pump.stop()
        self.pictures.take_away()
        self.twins.close()
        self.twins, self._pump = None, None
        for control in self.controls.values():
            control.move_with(self.session.motion)
        with unheard(self.beside):
            self.beside.setChecked(False)

    def _keep_cure(self) -> None:
        self._tried = 0
        self.refresh()

    def _leave_as_it_was(self) -> None:
        """Take every cure back that was tried here."""
        self._show_one()
        for _ in range(self._tried):
            self.session.document.undo()
        self._tried = 0
        self.session.compare_with(self._other_before)
        self.refresh()

    # Pictures and clips

    def caption(self) -> Caption:
        """Words under a picture of this pose. Raises RuntimeError while nothing is known."""
        sides = tuple(picture_side(each, name) for name, each in self.sides)
        return Caption(picture_title(self.session), sides, tuple(self._notes()), CAUTION)

    def _notes(self) -> Iterator[str]:
        """What was measured and what was assumed, of the rig as it was before any cure."""
        first = self.sides[0][1]
        check, cure, other = first.check, cure_note(self.session), self.session.other
        yield from [cure] if cure else []
        if self.twins is not None:
            yield TOGETHER
        elif cure and other is not None:
            check = other.check
        if check is not None:
            yield from basis_notes(first, check)

    def _save_picture(self) -> None:
        path = self._ask_place("picture", self._about(pose_words(self._at)), ".png")
        if path is None:
            return

        def write(frames: Iterator[Frame], *_: object) -> None:
            for frame, caption in frames:
                save_captioned(frame, caption, path)

        self._record((), self._finely, write, path)

    def _finely(self) -> Iterator[Image | None]:
        for _, session in self.sides:
            for _ in settled(session):
                yield None
        yield from self.pictures.finely()

    def _save_clip(self) -> None:
        name = str(self.film.currentData())
        path = self._ask_place("clip", self._about(name), ".gif")
        if path is None:
            return
        drive = next(drive for drive in self.stage.drives if drive.name == name)
        frame_time = FRAME_TIME if self.twins is None else 2 * FRAME_TIME  # half the size to send
        shots = shots_of(self.stage, drive, frame_time)
        self.progress.setRange(0, len(shots))
        self.progress.setValue(0)
        self.done_words.setText("")
        write = partial(_write_clip, path, frame_time)
        self._record(shots, self._frame, write, path)
        self.stop.setFocus()

    def _record(
        self,
        shots: Sequence[Shot],
        draw: Callable[[], Iterator[Image | None]],
        write: Write,
        path: Path,
    ) -> None:
        self.recording = Recording(self.stage, shots, draw, self.caption, write, self)
        self.recording.progressed.connect(self._on_progress)
        self.recording.ended.connect(partial(self._on_written, path))
        self.recording.start()
        self.refresh()

    def stop_recording(self) -> None:
        """Stop the clip that is being made; nothing is written."""
        if self.recording is not None:
            self.recording.cancel()

    def _on_progress(self, written: int, count: int) -> None:
        self.progress.setMaximum(count)
        self.progress.setValue(written)

    def _on_written(self, path: Path, said: str) -> None:
        stopped = self.recording is not None and self.recording.was_stopped
        if self.recording is not None:
            self.recording.deleteLater()
        self.recording = None
        self.still.hide()
        self.pictures.rest(False)
        done = "Stopped; nothing is written." if stopped else f"Saved {path.name}."
        self.done_words.setText(said or done)
        self.refresh()
        self.controls["travel"].slider.setFocus()

    def _frame(self) -> Iterator[Image | None]:
        """One of a clip; it is made smaller as a rule, which smooths its edges."""
        for _ in settled(self.session):
            yield None
        start = perf_counter()
        frame = self.pictures.snapshot()
        if perf_counter() - start > SLOW:
            # Each frame is drawn once then, for the clip only.
            self.pictures.rest(True)
        if self.pictures.rests:
            self.still.show_frame(frame)
        yield frame

    def _about(self, what: str) -> str:
        return what if self.twins is None else f"before and after {what}"

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
        """Ask about a cure, let go of everything and put the axle back where it was."""
        if not self._left and self._tried:
            if self._ask.choose(*KEEP) == "keep":
                self._tried = 0
            else:
                self._leave_as_it_was()
        super().closeEvent(event)
        if self._left:
            return
        self._left = True
        if self.recording is not None:
            self.recording.abandon()
        self._show_one()
        self.session.motion.stop()
        self.session.motion.go_to(*self._before)
        if (self.session.chosen, self.session.finding) != self._chosen:
            self.session.choose(*self._chosen)
        self.offers.close()
        self.pictures.shut()
        _cover(self._covered, on=False)
        self.left.emit()
        if self.parent() is not None:
            self.deleteLater()


KEEP = (
    "Keep the cure?",
    "The rig has a cure in it that was only tried.",
    (Answer("keep", "&Keep this cure"), Answer("undo", "Leave it as it &was")),
    "undo",
)


def _write_clip(
    path: Path,
    frame_time: int,
    frames: Iterator[Frame],
    done: Callable[[int], None],
    stopped: Callable[[], bool],
) -> None:
    save_clip(frames, path, done, stopped, frame_time)


def _cover(widget: QWidget | None, on: bool) -> None:
    if widget is None:
        return
    widget.setUpdatesEnabled(not on)
    for each in (widget, *widget.findChildren(QWidget)):
        if isinstance(each, Coverable):
            each.cover(on)


def _go_to_worst(session: Session) -> None:
    """Go to where it is worst, and choose what is worst."""
    if session.check is not None and session.answers.state == "fresh":
        session.go_to(session.check.findings[0])


def _looked_at(session: Session) -> str:
    """What is looked at first: the slip or what is near where that was chosen, else a joint."""
    if chosen_thing(session.finding):
        return NEAR
    return SLIP if session.chosen == SLIP else session.strip_joint


def _choose_alike(one: Session, other: Session) -> None:
    """Choose in one session what was chosen in the other."""
    if (other.chosen, other.finding) != (one.chosen, one.finding):
        other.choose(one.chosen, one.finding)
