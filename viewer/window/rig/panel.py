"""The rig as a sheet to type on, whatever is right or wrong with it."""

from collections.abc import Callable, Sequence
from functools import partial

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QCloseEvent
from PyQt6.QtWidgets import QWidget

from sim.rig.change import EditError
from sim.rig.typed_joints import typed_joints
from viewer.session.session import Session
from viewer.session.sheet.edits import add, choose_kind, take_away, type_into
from viewer.session.sheet.sheet import Group, sheet
from viewer.window.kit.follower import Follower
from viewer.window.kit.line import Line
from viewer.window.kit.pieces import column, once, put_whole, tall, words
from viewer.window.kit.theme import em
from viewer.window.rig.field_row import FieldRow, identity
from viewer.window.rig.fold import Fold

FOLDED = ("", "wanted", "shaft", "drive")
"""Groups that are closed at first."""


BREATH = 15
"""ms until the sheet of another rig is made, for whatever waits."""


class RigPanel(Follower):
    """Every measurement of the rig, editable."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.setAccessibleName("Measurements")
        self.seek = Line()
        self.seek.setPlaceholderText("Find a measurement")
        self.seek.setAccessibleName("Find a measurement")
        self.seek.setClearButtonEnabled(True)
        self.seek.textChanged.connect(self._filter)
        self.area = tall()
        self.said = words(called="Help on the measurement")
        self.said.setMinimumHeight(round(4.2 * em(self)))
        self.said.setAlignment(Qt.AlignmentFlag.AlignTop)
        column(self.seek, (self.area, 1), self.said, on=self, edge=round(0.4 * em(self)))
        self._open: dict[str, bool] = {}
        self._shape: object = None
        self._folds: list[Fold] = []
        self._rows: dict[tuple[str, ...], FieldRow] = {}
        self.setFocusProxy(self.seek)
        self._later = once(self, self.refresh, BREATH)
        self.follow((session.rig_changed, self.refresh), (session.sure.changed, self._mark_to_read))

    def on_opened(self) -> None:
        """Begin with another sheet, a moment later: it is long, and much else is shown anew."""
        self._shape, self._folds, self._rows = None, [], {}
        self.area.setWidget(QWidget())
        self._later.start()

    def refresh(self) -> None:
        """Show the sheet as it is now, keeping the cursor where it is."""
        groups = sheet(self.session.document)
        shape = [
            (g.key, g.title, g.there, g.optional, tuple(identity(f) for f in g.fields))
            for g in groups
        ]
        if shape != self._shape:
            self._build(groups)
            self._shape = shape
        for field in (field for group in groups for field in group.fields):
            self._rows[identity(field)].show_field(field)
        self._mark_wrong(groups)
        self._mark_to_read()

    def _mark_to_read(self) -> None:
        """Say at a field what reading it again would bring; at the yokes what the bench would."""
        to_read = self.session.sure.sure.to_read
        for row in self._rows.values():
            table, _, last = row.field.key.rpartition(".")
            keys = (*row.field.keys, *((table,) if last.endswith("_yoke") else ()))
            row.show_again(next((to_read[key] for key in keys if key in to_read), ""))

    def row(self, key: str) -> FieldRow:
        """The row of a key path."""
        return next(row for row in self._rows.values() if key in row.field.keys)

    def flush(self) -> None:
        """Take whatever is being typed."""
        for row in self._rows.values():
            row.flush()

    def _build(self, groups: Sequence[Group]) -> None:
        """Make the rows anew, with the same place on the screen and the same focus."""
        focused = self._focused()
        bar = self.area.verticalScrollBar()
        at = bar.value() if bar is not None else 0
        inside = QWidget()
        folds = column(on=inside, gap=0, edge=0)
        self._folds, self._rows = [], {}
        for group in groups:
            fold = Fold(group, self._is_open(group))
            fold.add.connect(self._on_add)
            fold.remove.connect(self._on_remove)
            fold.folded.connect(self._on_folded)
            for field in group.fields:
                row = FieldRow(field)
                row.typed.connect(self._on_typed)
                row.noted.connect(self._on_noted)
                row.asked.connect(self._on_asked)
                fold.rows.addWidget(row)
                self._rows[identity(field)] = row
            self._folds.append(fold)
            folds.addWidget(fold)
        folds.addStretch(1)
        put_whole(self.area, inside)
        if bar is not None:
            bar.setValue(at)
        if focused is not None and any(focused == row.field.key for row in self._rows.values()):
            self.row(focused).focus()
        self._filter(self.seek.text())

    def _focused(self) -> str | None:
        """Key path of the row with the cursor in it."""
        has = self.focusWidget()
        rows = self._rows.values() if has is not None else ()
        return next((row.field.key for row in rows if row.isAncestorOf(has)), None)

    def _is_open(self, group: Group) -> bool:
        return self._open.get(group.key, group.key not in FOLDED)

    def _mark_wrong(self, groups: Sequence[Group]) -> None:
        """Say at the title of a closed group that something in it is wrong."""
        for fold, group in zip(self._folds, groups, strict=True):
            fold.tell(group.problem, any(field.problem for field in group.fields))

    def _filter(self, text: str) -> None:
        """Show only rows with these words in label, key or help."""
        sought = text.lower().split()
        for fold in self._folds:
            shown = 0
            for row in fold.body.findChildren(FieldRow):
                field = row.field
                says = f"{fold.group.title} {field.label} {field.key} {field.help}".lower()
                fits = all(word in says for word in sought)
                row.setVisible(fits)
                shown += fits
            fold.setVisible(not sought or shown > 0)
            if fold.group.there:
                fold.open(bool(sought and shown) or (not sought and self._is_open(fold.group)))

    def _on_typed(self, key: str, value: object) -> None:
        row = self.row(key)
        if key.endswith(".kind") and isinstance(value, str) and value in row.field.choices:
            self._try(lambda: choose_kind(self.session.document, row.field, value))
        else:
            self._try(lambda: type_into(self.session.document, row.field, value, key, row.goes_on))

    def _on_add(self, group: Group) -> None:
        self._open[group.key] = True
        self._try(lambda: add(self.session.document, group))

    def _on_remove(self, group: Group) -> None:
        self._try(lambda: take_away(self.session.document, group))

    def _on_folded(self, key: str, is_open: bool) -> None:
        self._open[key] = is_open

    def _on_noted(self, row: FieldRow) -> None:
        field = row.field
        lead = f"{field.label}: {field.help}"
        if field.is_assumed:
            lead += f" Assumed {_shown(field.assumed)}: {field.why}."
        self.said.setText(lead)
        self.area.ensureWidgetVisible(row)

    def _on_asked(self, row: FieldRow) -> None:
        from viewer.window.yoke.chooser import YokeChooser

        self._chooser = YokeChooser(self.session, row.field.key, self)
        self._chooser.bench_wanted.connect(partial(self._show_bench, row.field.key))
        self._chooser.open()

    def _show_bench(self, key: str) -> None:
        """Take the joint of the yoke at a key path to the bench."""
        from viewer.window.bench.room import BenchWindow

        ends = typed_joints(self.session.document.rig)
        joint = next(end.joint for end in ends if key.startswith(f"{end.table}."))
        self._bench = BenchWindow(self.session, joint, self)
        self._bench.show()

    def _try(self, change: Callable[[], None]) -> None:
        try:
            change()
        except EditError as error:
            self.said.setText(str(error))
            self.refresh()

    def closeEvent(self, event: QCloseEvent | None) -> None:
        """Nothing that was typed is lost."""
        self.flush()
        super().closeEvent(event)


def _shown(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
