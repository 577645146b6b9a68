"""A failed joint on the bench: its inspection as it is written, and the answer that follows it."""

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, Final

from psygnal import Signal

from geometry.errors import BindpointError
from sim.causes import SeenCode
from sim.front_section import JOINTS
from sim.hardware.head import HeadHardware, end_hardware
from sim.hardware.joint import JointHardware
from sim.marks import Mark
from sim.rig.demos import demo_names
from sim.seen import clock_angle
from sim.seen.signs import SIGNS
from sim.seen.words import CAPS, YOKES
from sim.vehicle import Joint
from viewer.inspections import beside_rig
from viewer.scene.apart import Apart, Place, taken_apart
from viewer.session.session import Session
from viewer.session.text.file_names import plain_name
from viewer.session.why.inspected import Inspected
from viewer.session.why.rows import Row, Told, rows_of, told_of, typed_at
from viewer.session.work.asking import Asking
from viewer.why.follow import TrunnionTold, WhyTold
from viewer.words.apart import NOTHING_FOUND, clock_text, part_title
from viewer.words.problems import error_words, typed_problem

TABLES: Final = (
    *(f"caps.{cap}" for cap in CAPS),
    *(f"yokes.{yoke}" for yoke in YOKES),
    *("cross", "fracture", "spline", "tube", "ball", "play"),
)
"""The parts that something is told of, in the order in which they lie on the bench."""

STORY: Final = ("history", "symptoms")
"""Tables of what is told by whoever drove it."""

MOST_SAID: Final = 2
"""Words under the name of a part in the picture; more are a number."""


class WhyRoom:
    """One failed joint being looked at.

    Attributes
    ----------
    file : the inspection. chosen : table and key of the words that are meant just now.
    meant : number of the mark that is meant, from 0; None for none.
    answers : why it broke or wore, so far.
    fault : why the joint cannot be shown; "" where it can.

    Signals
    -------
    changed : the inspection says something else, or is another one.
    chose : another part is meant.
    took_apart : another joint lies on the bench.
    answered : there is more of an answer, or it grew old.
    """

    changed = Signal()
    chose = Signal()
    took_apart = Signal()
    answered = Signal()

    def __init__(self, session: Session) -> None:
        self.session = session
        self.chosen: tuple[str, str] = (TABLES[0], "seen")
        self.meant: int | None = None
        self._asked: tuple[str, str] | None = None
        self._apart: tuple[object, Apart] | None = None
        self.fault = ""
        # Not one that is made for each question: it keeps what the rig comes to.
        self.answers: Asking[WhyTold] = Asking(session.worker_for("why"))
        self.answers.changed.connect(self._on_answer)
        self._use(self._fresh())
        session.rig_changed.connect(self._on_file)
        session.opened.connect(self._on_opened)

    # The file

    def begin(self) -> None:
        """Start an inspection of the rig as it stands, with nothing looked at."""
        self._replace(self._fresh())

    def open(self, path: Path) -> None:
        """Open an inspection file. Raises RigError with everything that is wrong with it."""
        self._replace(Inspected.open(path))

    @property
    def place(self) -> Path:
        """Where it is saved as a rule: where it lies, else beside the rig file."""
        if self.file.path is not None:
            return self.file.path
        document = self.session.document
        return beside_rig(
            document.path or Path.home() / f"{plain_name(document.name)}.toml", self.joint
        )

    def close(self) -> None:
        """Leave the session in peace."""
        self.answers.changed.disconnect(self._on_answer)
        self.answers.close()
        self.file.changed.disconnect(self._on_file)
        self.session.rig_changed.disconnect(self._on_file)
        self.session.opened.disconnect(self._on_opened)

    # The joint

    @property
    def joints(self) -> tuple[Joint, ...]:
        """Joints that the rig has."""
        has_middle = self.session.document.rig.carrier is not None
        return tuple(joint for joint in JOINTS if joint != "middle" or has_middle)

    @property
    def joint(self) -> Joint:
        """The joint on the bench: the one that the inspection names, if the rig has it."""
        named = self.file.inspection.joint
        return named if named in self.joints else self.joints[-1]

    @property
    def is_head(self) -> bool:
        """Whether it is a double-Cardan head, of which one cross is on the bench."""
        return isinstance(end_hardware(self.session.document.rig, self.joint), HeadHardware)

    @property
    def apart(self) -> Apart | None:
        """The joint, taken apart; None where `fault` tells why its parts cannot be built."""
        try:
            made = self._hardware()
            if self._apart is None or self._apart[0] != made.key:
                self._apart = made.key, taken_apart(made)
        except BindpointError as error:
            self._apart, self.fault = None, f"{error_words(error)}."
            return None
        self.fault = ""
        return self._apart[1]

    def _hardware(self) -> JointHardware:
        made = end_hardware(self.session.document.rig, self.joint)
        if not isinstance(made, HeadHardware):
            return made
        return made.crosses[self._cross]

    @property
    def tables(self) -> tuple[str, ...]:
        """The parts of this joint that something can be told of."""
        return tuple(table for table in TABLES if table != "ball" or self.is_head)

    def title(self, table: str) -> str:
        """What a part is called."""
        return part_title(table, self.joint)

    # What is told

    @property
    def data(self) -> Mapping[str, Any]:
        """What is typed, as plain data."""
        return self.file.data

    def rows(self, table: str) -> tuple[Row, ...]:
        """Everything that can be told of a part of this joint."""
        strapped = self.has_straps(table)
        return tuple(row for row in rows_of(table) if strapped or not row.key.endswith(".strap"))

    def has_straps(self, table: str) -> bool:
        """Whether a cap is held by a strap."""
        apart = self.apart
        parts = () if apart is None else apart.parts
        return any(part.table == table and part.words == "strap" for part in parts)

    def told(self, row: Row, word: str) -> Told:
        """What is told of a word."""
        return told_of(self.data, row, word)

    def tick(self, row: Row, word: str) -> None:
        """Say that a word is there, or take that back; the others of its list were looked at."""
        there = list(typed_at(self.data, row.key) or ())
        was = word in there
        words = [each for each in row.words if (each in there) != (each == word)]
        self._tell(row, words, f"{'not ' * was}{word}")

    def find_nothing(self, row: Row) -> None:
        """Say that somebody looked, and nothing was there."""
        self._tell(row, [], f"{row.name.lower()}: {NOTHING_FOUND}")

    def forget(self, row: Row) -> None:
        """Say that nobody looked."""
        self._tell(row, None, f"{row.name.lower()}: {row.otherwise}")

    def tell(self, row: Row, value: Any, joined: bool = False) -> None:
        """Say a word, a measure or a remark; None takes it back."""
        self._tell(row, value, row.name.lower(), joined)

    def tell_of_all(self, key: str, value: Any) -> None:
        """Say something at the top of the file: which joint, how it ended."""
        self.file.set({key: value}, key.replace("_", " "))

    def problem(self, key: str) -> str:
        """What is wrong with what is typed at a key; "" for nothing."""
        return "; ".join(
            typed_problem(each) for each in self.file.problems if each.key.startswith(key)
        )

    def looked(self) -> dict[str, list[str]]:
        """What was seen of each part that somebody looked at, by its table."""
        data, found = self.data, {}
        for table in TABLES:
            lists = [typed_at(data, row.key) for row in rows_of(table) if row.kind == "words"]
            if any(there is not None for there in lists):
                found[table] = [word for there in lists for word in there or ()]
        return found

    def seen(self) -> dict[str, list[str]]:
        """The same of those parts on which something was."""
        return {table: words for table, words in self.looked().items() if words}

    def said(self) -> dict[str, str]:
        """The same of all that somebody looked at, in a few words each."""
        return {table: _few(words) for table, words in self.looked().items()}

    # Marks

    def marks(self) -> tuple[Place, ...]:
        """Marks with their places, as far as they are right."""
        marks = self.file.inspection.marks or ()
        return tuple(Place(each.yoke, each.surface, clock_angle(each.clock)) for each in marks)

    def add_mark(self, place: Place) -> None:
        """Put a mark where somebody pointed."""
        clock = clock_text(place.clock)
        mark = {"yoke": place.yoke, "surface": place.surface, "clock": clock}
        marks = [*self._marks(), mark]
        self.meant = len(marks) - 1
        self.file.set({"marks": marks}, f"mark on the {place.surface}")

    def change_mark(self, number: int, key: str, value: Any) -> None:
        """Say more of a mark: how deep it is, whether there is another straight across."""
        marks = self._marks()
        marks[number] = {name: each for name, each in marks[number].items() if name != key}
        if value is not None:
            marks[number][key] = value
        self.file.set({"marks": marks}, f"mark {number + 1}: {key}", joined=True)

    def drop_mark(self, number: int) -> None:
        """Take a mark away; the last one leaves that nobody looked."""
        marks = [each for place, each in enumerate(self._marks()) if place != number]
        self.meant = None
        self.file.set({"marks": marks or None}, f"no mark {number + 1}")

    def _marks(self) -> list[dict[str, Any]]:
        return [dict(each) for each in self.data.get("marks", ())]

    # The answer

    @property
    def is_old(self) -> bool:
        """Whether the answer is not that to what is told now."""
        answer = self.answers.answer
        return answer is not None and answer.of != (self.file.text, self.session.document.text)

    def follow(self) -> None:
        """Ask why, unless nothing is told, or the answer to this is there or on its way.

        One question is answered before the next is put: the worker knows the rig by then, and is
        quick.
        """
        document, answers = self.session.document, self.answers
        texts = self.file.text, document.text
        is_there = answers.answer is not None and answers.answer.of == texts
        right = self.file.is_right and document.is_right and not self.file.inspection.is_blank
        if not answers.is_computing and right and not is_there and self._asked != texts:
            self._asked = texts
            answers.ask(replace(document.order(), seen=self.file.text))

    @property
    def met(self) -> tuple[Mark, ...]:
        """Where the metal meets at the cross on the bench, as computed so far."""
        answer = self.answers.answer
        if answer is None or answer.of[1] != self.session.document.text:
            return ()
        number = self._cross
        return tuple(mark for mark in answer.marks if mark.cross == number)

    @property
    def pressed(self) -> tuple[TrunnionTold, ...]:
        """The pressure on each trunnion, as computed so far."""
        answer = self.answers.answer
        is_of_rig = answer is not None and answer.of[1] == self.session.document.text
        return answer.trunnions if answer is not None and is_of_rig else ()

    @property
    def _cross(self) -> int:
        """Number of the cross on the bench: 1 for that of a head farther from the engine."""
        made = end_hardware(self.session.document.rig, self.joint)
        if not isinstance(made, HeadHardware):
            return 0
        is_inner = self.file.inspection.head_cross == "inner"
        return int(is_inner == (self.joint == "output"))

    def poll(self) -> None:
        """Take in what the worker said; called often, never waits."""
        self.answers.poll()

    def go_to(self, sign: SeenCode) -> None:
        """Mean the part where a sign is told, first where nobody looked at it yet."""
        unseen = [key for key in SIGNS[sign].reads if typed_at(self.data, key) is None]
        keys = [key for key in unseen or SIGNS[sign].reads if self._has(key)]
        words = {row.key for table in (*TABLES, *STORY) for row in rows_of(table) if row.words}
        first = next((key for key in keys if key in words), next(iter(keys), ""))
        table, _, key = first.rpartition(".")
        self.choose(table or key, key)

    def _has(self, key: str) -> bool:
        """Whether this joint has what is told at a key."""
        table, _, last = key.rpartition(".")
        there = last != "strap" or self.has_straps(table)
        return there and (table != "ball" or self.is_head)

    # What is meant

    def choose(self, table: str, words: str = "") -> None:
        """Mean a part."""
        if (table, words) != self.chosen:
            self.chosen = table, words
            self.chose.emit()

    # Inside

    def _fresh(self) -> Inspected:
        session = self.session
        document = session.document
        has_middle = document.rig.carrier is not None
        joint = session.strip_joint
        return Inspected.begin(self.rig, joint if joint != "middle" or has_middle else "pinion")

    @property
    def rig(self) -> str:
        """What the rig is called in an inspection: its file, or its demo."""
        document = self.session.document
        is_demo = document.path is None and document.name in demo_names()
        return f"demo:{document.name}" if is_demo else document.name

    @property
    def of_another(self) -> str:
        """The rig that the inspection says it is of, where that is another one; else ""."""
        told = self.file.inspection.rig
        return told if told is not None and told != self.rig else ""

    def _use(self, file: Inspected) -> None:
        self.file = file
        file.changed.connect(self._on_file)

    def _replace(self, file: Inspected) -> None:
        self.file.changed.disconnect(self._on_file)
        self.meant = None
        self._use(file)
        self._on_file()

    def _tell(self, row: Row, value: Any, name: str, joined: bool = False) -> None:
        table = row.key.rpartition(".")[0]
        self.file.set({row.key: value}, f"{self.title(table)}: {name}", joined)

    def _on_file(self) -> None:
        before = None if self._apart is None else self._apart[1]
        if self.apart is not before:
            self.took_apart.emit()
        self.changed.emit()
        self.answered.emit()
        self.follow()

    def _on_answer(self) -> None:
        self.answered.emit()
        self.follow()

    def _on_opened(self) -> None:
        if not self.file.is_dirty:
            self.begin()
        else:
            self._on_file()


def _few(words: list[str]) -> str:
    more = len(words) - MOST_SAID
    text = ", ".join(words[:MOST_SAID])
    return (f"{text}, {more} more" if more > 0 else text) or NOTHING_FOUND
