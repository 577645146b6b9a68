"""A joint on the bench: its readings as they are typed, how each is taken, what they come to."""

from collections.abc import Mapping
from dataclasses import replace

from psygnal import Signal

from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from viewer.bench.told import BenchTold
from viewer.draw.plan import Plan
from viewer.session.session import Session
from viewer.session.sheet.bench_pick import BenchPick
from viewer.session.work.asking import Asking
from viewer.words.bench import WAYS, BenchWay

Shown = tuple[Joint, str, str]
"""A drawing: of which joint, which way, which yoke clamped."""


class BenchRoom:
    """One joint, its readings and their answer.

    Attributes
    ----------
    pick : the readings as typed. told : what they come to; soon : the same by forecast, which is
    there while somebody still types. drawn : the drawing on its way.

    Signals
    -------
    changed : another drawing is there.
    """

    changed = Signal()

    def __init__(self, session: Session, joint: Joint) -> None:
        self.session = session
        self.told: Asking[BenchTold] = Asking(session.worker_for("bench"))
        self.soon: Asking[BenchTold] = Asking(session.worker_for("forecast"))
        self.drawn: Asking[Plan] = Asking(session.worker_for("drawing"))
        self._plans: dict[Shown, Plan] = {}
        self._wanted: Shown | None = None
        self._asked: tuple[str, Joint] | None = None
        self._drawing: Shown | None = None
        self.drawn.changed.connect(self._on_drawn)
        self.take(joint)

    def take(self, joint: Joint) -> None:
        """Put another joint on the bench."""
        self.pick = BenchPick(self.session.document, joint)
        self._asked = None

    @property
    def joint(self) -> Joint:
        """The joint on the bench."""
        return self.pick.joint

    @property
    def is_head(self) -> bool:
        """Whether it is a double-Cardan head, which no bench reading is taken of."""
        return (
            getattr(typed_joint(self.session.document.rig, self.joint).typed, "head", None)
            is not None
        )

    @property
    def is_old(self) -> bool:
        """Whether the answer is not that to what is typed now."""
        return self._asked != (self.session.document.text, self.joint) or self.told.is_computing

    def follow(self) -> None:
        """Ask what the readings come to, unless that is known or on its way."""
        document = self.session.document
        asked = document.text, self.joint
        if document.is_right and not self.is_head and self._asked != asked:
            self._asked = asked
            order = replace(document.order(), joint=self.joint)
            self.soon.ask(order)
            self.told.ask(order)

    @property
    def answer(self) -> BenchTold | None:
        """What is known of the joint: a forecast as long as the yokes that agree are not there."""
        soon = self.soon.answer
        if self.told.is_computing and self.soon.state == "fresh" and soon and soon.now:
            return soon
        answer = self.told.answer
        return answer if answer is not None and answer.joint == self.joint else None

    def plan(self, way: BenchWay, held: str) -> Plan | None:
        """The drawing of a way, where it is there; else it is wanted, and comes."""
        shown = self.joint, way.name, held
        self._wanted = shown
        found = self._plans.get(shown)
        if found is None:
            self._draw()
        return found

    def poll(self) -> None:
        """Hear what has come."""
        self.soon.poll()
        self.told.poll()
        self.drawn.poll()

    def close(self) -> None:
        """Ask nothing more."""
        self.soon.close()
        self.told.close()
        self.drawn.close()

    def way(self, number: int) -> tuple[BenchWay, str]:
        """How a reading, from 1, is taken, and the yoke that is clamped."""
        table = self.pick.tables[number - 1]
        way = next((each for each in WAYS if table_is(each, table)), WAYS[0])
        return way, str(table.get("clamped", "shaft yoke"))

    def _draw(self) -> None:
        document = self.session.document
        if self.drawn.is_computing or self._wanted is None or not document.is_right:
            return
        joint, *reading = self._drawing = self._wanted
        way, held = reading
        self.drawn.ask(replace(document.order(), joint=joint, reading=(way, held)))

    def _on_drawn(self) -> None:
        if self.drawn.state == "fresh" and self.drawn.answer and self._drawing is not None:
            self._plans[self._drawing] = self.drawn.answer
            self._drawing = None
            if self._wanted not in self._plans:
                self._draw()
            self.changed.emit()


def table_is(way: BenchWay, table: Mapping[str, object]) -> bool:
    """Whether a reading, as typed, is of this way."""
    if way.ears:
        ears = table.get("ears", "between" if "turned" in table else "")
        return ears == way.ears and bool({"touches_at", "clear_to"} & table.keys())
    return way.value in table
