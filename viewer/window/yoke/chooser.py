"""Choosing a yoke by its picture, and typing what was measured on it."""

from collections.abc import Callable
from functools import partial
from html import escape
from pathlib import Path

from PyQt6.QtCore import QEvent, QObject, Qt, pyqtSignal
from PyQt6.QtWidgets import QDialog, QDialogButtonBox, QGridLayout, QLabel, QWidget

from sim.parts.catalogue import cross_sizes
from viewer.session.session import Session
from viewer.session.sheet.yoke_pick import YokeDimension, YokePick
from viewer.window.kit.asker import Asker, Dialogs
from viewer.window.kit.follower import Links
from viewer.window.kit.letting_go import LettingGo
from viewer.window.kit.line import PAUSE, Line
from viewer.window.kit.pieces import button, choosing, column, once, row, tall, unheard, words
from viewer.window.kit.plan_view import PlanView
from viewer.window.kit.theme import colours, em
from viewer.window.yoke.shelf_process import ShelfProcess
from viewer.window.yoke.tiles import YokeTiles
from viewer.window.yoke.trial import YokeTrial
from viewer.words.keys import choice_words, group_title, label_of

GENERIC = (
    "The pictures are generic, drawn from the catalogue's dimensions. Type what a caliper says "
    "where yours differs; what is left empty stays generic."
)

OWN = "This yoke comes from a mesh file. What is left empty is worked out from it."

USUAL = "throat_depth"
"""The dimension drawn first: the one that decides how far most joints bend."""

Trying = Callable[[Path, str, Callable[[str], object], QWidget, str], QDialog]
"""Shows a mesh file for a cross, read in a unit or "" for the one that its size tells; what is
given hears the unit when the yoke is taken."""

MESHES = "Meshes (*.stl *.obj *.ply *.3mf *.glb);;All files (*)"


class YokeChooser(LettingGo):
    """The yoke at one key path; every choice is taken at once, and undo takes it back."""

    bench_wanted = pyqtSignal()
    """Somebody wants to bend the joint of this yoke on the bench instead."""

    def __init__(
        self,
        session: Session,
        key: str,
        parent: QWidget | None = None,
        shelf: ShelfProcess | None = None,
        asker: Asker | None = None,
        trial: Trying = YokeTrial,
    ) -> None:
        super().__init__(parent)
        self._try = trial
        self.trial: QDialog | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._session = session
        self._ask = asker or Dialogs(self)
        self.pick = YokePick(session.document, key)
        place = group_title(key.rpartition(".")[0])
        self.setWindowTitle(f"{place}: {label_of(key)}")
        self._shelf = shelf or ShelfProcess(self)
        self._shelf.ready.connect(self._on_drawn)
        self._shelf.failed.connect(self._on_drawn)
        self._shape: object = None
        self._shown: object = None
        self._lines: dict[str, tuple[Line, QLabel]] = {}
        sizes = ((choice_words(size.name, "cross"), size.name, "") for size in cross_sizes())
        tip = "Both yokes of the joint are for this cross."
        self.cross = choosing("Size of cross", tip, sizes)
        self.cross.activated.connect(self._on_cross)
        self.tiles = YokeTiles(self.pick.kinds)
        self.tiles.currentTextChanged.connect(self._on_kind)
        self.note, self.wrong, self.how = words(), words(), words()
        self.plan = PlanView()
        self.how.setTextFormat(Qt.TextFormat.RichText)
        self.how.setMinimumHeight(round(3.2 * em(self)))
        self.how.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._drawn_for: tuple[str, str, str] | None = None
        self.area = tall()
        self._arrange()
        self._timer = once(self, self.flush, PAUSE)
        self._links = Links((session.rig_changed, self.refresh), (session.opened, self._on_opened))
        self.refresh()

    def _arrange(self) -> None:
        label = words("&Cross, cap diameter x span in mm (trade size)", wraps=False)
        label.setBuddy(self.cross)
        title = words("Dimensions of this yoke", bold=True, wraps=False)
        left = column((self.tiles, 4), (row(self.plan, (self.how, 1)), 3))
        right = column(title, self.note, self.wrong, (self.area, 1))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        tip, called = "Takes a yoke of your own, scanned or drawn.", "Yoke from a mesh file"
        self.scan = button("From a &mesh file...", tip, self._on_scan, called)
        self.scan.setAutoDefault(False)
        tip = "Shows the yoke as it was placed, the bores that were found, and what is doubtful."
        self.placed = button("See how it was &placed...", tip, self._on_placed)
        self.placed.setAutoDefault(False)
        tip = (
            "Readings with a protractor on the joint itself, in place of a caliper's on its yokes."
        )
        self.bench = button("Bend the joint on the &bench...", tip, self._on_bench)
        self.bench.setAutoDefault(False)
        for each in (self.scan, self.placed, self.bench):
            buttons.addButton(each, QDialogButtonBox.ButtonRole.ActionRole)
        shut = buttons.button(QDialogButtonBox.StandardButton.Close)
        if shut is not None:  # Enter takes what is typed; it closes nothing
            shut.setAutoDefault(False)
            shut.setDefault(False)
        both = row((left, 3), (right, 2))
        column(row(label, self.cross, None), (both, 1), buttons, on=self)
        self.resize(round(58 * em(self)), round(38 * em(self)))
        self.tiles.setFocus()

    def refresh(self) -> None:
        """Show what counts now; what is being typed is left alone."""
        pick = self.pick
        with unheard(self.cross):
            self.cross.setCurrentIndex(self.cross.findData(pick.cross))
        self.tiles.choose(pick.kind)
        self._show_pictures(pick.cross)
        dimensions = pick.dimensions
        names = (pick.kind, *(each.name for each in dimensions))
        if names != self._shape:
            self._shape = names
            self._build(dimensions)
        self.note.setText(OWN if pick.is_own else GENERIC)
        self.placed.setVisible(pick.is_own)
        for each in dimensions:
            line, wrong = self._lines[each.name]
            if not line.isModified():
                text = each.typed or ""
                if line.text() != text:
                    line.setText(text)
            line.setPlaceholderText(each.generic)
            self._tell(wrong, each.problem)
            line.setAccessibleDescription(f"{each.about}. Generic: {each.generic}.")
        self._tell(self.wrong, pick.problem)

    def flush(self) -> None:
        """Take what is being typed."""
        self._timer.stop()
        for name, (line, _) in tuple(self._lines.items()):
            if line.isModified():
                line.setModified(False)
                self.pick.measure(name, line.text())

    def _build(self, dimensions: tuple[YokeDimension, ...]) -> None:
        inside = QWidget()
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, round(0.4 * em(self)), 0)
        grid.setColumnStretch(1, 1)
        self._lines = {}
        for place, each in enumerate(dimensions):
            line, wrong, label = Line(), words(), words(each.label, wraps=False)
            label.setBuddy(line)
            for part in (label, line):
                part.setToolTip(f"{each.about[:1].upper()}{each.about[1:]}.")
            line.setAccessibleName(each.label)
            line.setMinimumWidth(round(9 * em(self)))
            line.textEdited.connect(lambda _: self._timer.start())
            line.editingFinished.connect(self.flush)
            grid.addWidget(label, 2 * place, 0)
            grid.addWidget(line, 2 * place, 1)
            grid.addWidget(wrong, 2 * place + 1, 0, 1, 2)
            self._lines[each.name] = line, wrong
            line.installEventFilter(self)
        if dimensions:
            usual = next((each.name for each in dimensions if each.name == USUAL), None)
            self._draw(usual or dimensions[0].name)
        grid.setRowStretch(2 * len(dimensions), 1)
        self.area.setWidget(inside)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Draw where the dimension is taken whose line has the focus."""
        if event is not None and event.type() == QEvent.Type.FocusIn:
            name = next((name for name, (line, _) in self._lines.items() if line is watched), None)
            if name is not None:
                self._draw(name)
        return super().eventFilter(watched, event)

    def _draw(self, name: str) -> None:
        about = self.pick.kind, self.pick.cross, name
        if about == self._drawn_for:
            return
        self._drawn_for = about
        plan, says = self.pick.drawn(name)
        self.plan.show_plan(plan, says)
        self.plan.setVisible(plan is not None)
        self.how.setText(f"<b>{escape(name.replace('_', ' '))}</b>: {escape(says)}")

    def line(self, name: str) -> Line:
        """The line of a dimension."""
        return self._lines[name][0]

    def _tell(self, label: QLabel, problem: str | None) -> None:
        label.setVisible(problem is not None)
        label.setText(f"\N{BALLOT X} {problem or ''}")
        label.setStyleSheet(f"color: {colours(self).verdicts['touches']};")

    def _show_pictures(self, cross: str) -> None:
        place: Path | None = self._shelf.want(cross)
        if (cross, place) != self._shown:
            self._shown = cross, place
            self.tiles.show_pictures(place)

    def _on_drawn(self, cross: str) -> None:
        if cross == self.pick.cross and self._shown == (cross, None):
            from viewer.yoke.shelf import shelf_place

            place = shelf_place(cross)
            if place.exists():
                self._shown = cross, place
                self.tiles.show_pictures(place)

    def _on_kind(self, kind: str) -> None:
        if kind:
            self.flush()
            self.pick.choose(kind)

    def _on_scan(self) -> None:
        self.flush()
        file = self._ask.file_to_open("Yoke from a mesh file", self.pick.folder, MESHES)
        if file is not None:
            self._show_trial(file, "")

    def _on_placed(self) -> None:
        self.flush()
        file, unit = self.pick.own_file
        self._show_trial(file, unit)

    def _on_bench(self) -> None:
        self.close()
        self.bench_wanted.emit()

    def _show_trial(self, file: Path, unit: str) -> None:
        """Show a yoke from a mesh file before it is taken, or taken in another unit."""
        take = partial(self.pick.take_file, file)
        self.trial = self._try(file, self.pick.cross, take, self, unit)
        self.trial.open()

    def _on_cross(self, _place: int) -> None:
        self.flush()
        self.pick.choose_cross(str(self.cross.currentData()))

    def _on_opened(self) -> None:
        """Another rig is there: this yoke is no part of it."""
        self._lines = {}
        self.close()

    def let_go(self) -> None:
        """Let go of the session."""
        self.flush()
        self._shelf.stop()
        self._links.let_go()
