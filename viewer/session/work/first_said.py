"""The first page of the answer: at once what is known of it, the rest when it was tried."""

from collections.abc import Callable
from dataclasses import dataclass
from math import inf
from time import monotonic
from typing import Final

from psygnal import Signal

from sim.check import Check
from sim.cures.first_cure import FirstCure, first_cure
from sim.turning_over import TurningOver, kept_turning
from viewer.session.text.order import Order
from viewer.session.work.asking import Asking
from viewer.session.work.worker import Worker
from viewer.words.first_page import FirstPage, first_page

PATIENCE: Final = 1.5
"""s for which an answer has to stand before a process is started to try what nobody gave: whoever
types changes it sooner."""


@dataclass(frozen=True)
class _Known:
    """What the page is made of."""

    check: Check
    order: Order
    told: TurningOver | None = None
    cure: FirstCure | None = None


class FirstSaid:
    """What is said first of an answer.

    Attributes
    ----------
    page : of the last answer, which may be old; None before there is one.
    trying : asks what nobody gave and what would turn the verdict over.

    Signals
    -------
    changed : the page says more.
    """

    changed = Signal()

    def __init__(self, worker: Callable[[], Worker]) -> None:
        self.page: FirstPage | None = None
        self.trying: Asking[TurningOver] = Asking(worker)
        self.trying.changed.connect(self._on_tried)
        self._known: _Known | None = None
        self._ask_at = inf

    def begin(self, check: Check, order: Order) -> None:
        """Take a new answer; `look` and then `poll` find out the rest."""
        self.trying.forget()
        self._ask_at = inf
        self._say(_Known(check, order))

    def look(self) -> None:
        """Read what is kept: what was tried, and the first of the cures."""
        known = self._known
        if known is None:
            return
        rig = known.check.rig
        told = known.told or kept_turning(rig)
        if told is None and not self.trying.is_computing:
            self._ask_at = monotonic() + PATIENCE
        self._say(_Known(known.check, known.order, told, first_cure(rig)))

    def poll(self) -> None:
        """Take in what was tried; called often, never waits."""
        if self._known is not None and monotonic() >= self._ask_at:
            self._ask_at = inf
            self.trying.ask(self._known.order)
        self.trying.poll()

    def stop(self) -> None:
        """Try no more for this answer, which is old."""
        self._ask_at = inf
        self.trying.cancel()

    def forget(self) -> None:
        """Know nothing, as at the start."""
        self.stop()
        self.page = self._known = None

    def close(self) -> None:
        """Let the worker go."""
        self.trying.close()

    def _on_tried(self) -> None:
        known = self._known
        if known is not None and self.trying.state == "fresh":
            self._say(_Known(known.check, known.order, self.trying.answer, known.cure))

    def _say(self, known: _Known) -> None:
        self._known = known
        page = first_page(known.check, known.told, known.cure)
        if page != self.page:
            self.page = page
            self.changed.emit()
