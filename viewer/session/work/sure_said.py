"""How sure the answer is: a first look soon after it, whole trucks drawn when the shop has time."""

from collections.abc import Callable
from math import inf
from time import monotonic
from typing import Final

from psygnal import Signal

from sim.check import Check
from viewer.bars.asked import UNASKED, Sure
from viewer.session.text.order import Order
from viewer.session.work.asking import Asking
from viewer.session.work.worker import Worker

PATIENCE: Final = 1.0
"""s for which an answer has to stand before a process is started to look: whoever types changes it
sooner."""

LATER: Final = 3.0
"""s for which a first look has to stand before whole trucks are drawn, which takes both cores."""


class SureSaid:
    """How sure the last answer is.

    Attributes
    ----------
    sure : what is known; nothing before anybody looked.
    looking : asks for a first look. drawing : draws whole trucks.

    Signals
    -------
    changed : more is known, or what was known is of an old answer.
    """

    changed = Signal()

    def __init__(self, worker: Callable[[], Worker], later: Callable[[], Worker]) -> None:
        self.sure: Sure = UNASKED
        self.looking: Asking[Sure] = Asking(worker)
        self.drawing: Asking[Sure] = Asking(later)
        self.looking.changed.connect(self._on_looked)
        self.drawing.changed.connect(self._on_drawn)
        self._order: Order | None = None
        self._look_at = self._draw_at = inf

    def begin(self, check: Check, order: Order) -> None:
        """Look at a new answer, soon."""
        del check
        self.forget()
        self._order, self._look_at = order, monotonic() + PATIENCE

    def poll(self) -> None:
        """Take in what was found; called often, never waits."""
        now, order = monotonic(), self._order
        if order is not None and now >= self._look_at:
            self._look_at = inf
            self.looking.ask(order)
        if order is not None and now >= self._draw_at:
            self._draw_at = inf
            self.drawing.ask(order)
        self.looking.poll()
        self.drawing.poll()

    def stop(self) -> None:
        """Look no more at this answer, which is old."""
        self._look_at = self._draw_at = inf
        self.looking.cancel()
        self.drawing.cancel()

    def forget(self) -> None:
        """Know nothing, as at the start."""
        self.stop()
        self._order = None
        self._say(UNASKED)

    def close(self) -> None:
        """Let the workers go."""
        self.looking.close()
        self.drawing.close()

    def _on_looked(self) -> None:
        found = self.looking.answer
        if self._order is not None and self.looking.state == "fresh" and found is not None:
            self._say(found)
            if found.bars is not None and found.bars.how == "first":
                self._draw_at = monotonic() + LATER

    def _on_drawn(self) -> None:
        found = self.drawing.answer
        if self._order is not None and self.drawing.state == "fresh" and found is not None:
            self._say(found)

    def _say(self, sure: Sure) -> None:
        if sure is not self.sure:
            self.sure = sure
            self.changed.emit()
