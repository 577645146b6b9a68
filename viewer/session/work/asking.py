"""Asking a worker about the rig, and keeping the last answer until there is a better one."""

from collections.abc import Callable
from typing import Generic, Literal, TypeVar, cast

from psygnal import Signal

from viewer.session.text.order import Order
from viewer.session.work.worker import ANY_JOB, Worker

State = Literal["none", "fresh", "stale", "computing", "failed", "stopped"]
"""none: nothing asked yet. fresh: the answer is that of the rig. stale: the rig is not right just
now. computing: a new one is on its way. failed: there can be none. stopped: computing was
cancelled."""

Found = TypeVar("Found")
"""What the worker gives."""


class Asking(Generic[Found]):
    """Asks a worker and keeps the last answer.

    Attributes
    ----------
    answer : the last there was; it may be old.
    state, what, share : how it stands; what is being done, and the share that is done.
    fault : why there can be none, in words; `fault_is_bug` when the program is at fault.

    Signals
    -------
    changed : the answer or its state is another one.
    progressed : more is done; `what` and `share` tell.
    """

    changed = Signal()
    progressed = Signal()

    def __init__(self, worker: Worker | Callable[[], Worker]) -> None:
        """Ask this worker, or one that is made when it is first needed and gone when it is done."""
        self._make = None if isinstance(worker, Worker) else worker
        self._worker = worker if isinstance(worker, Worker) else None
        self._job = 0
        self.answer: Found | None = None
        self.state: State = "none"
        self.what, self.share = "", 0.0
        self.fault: str | None = None
        self.fault_is_bug = False

    @property
    def is_computing(self) -> bool:
        """Whether an answer is on its way."""
        return self.state == "computing"

    def ask(self, order: Order) -> None:
        """Want the answer to a rig; whatever was on its way is dropped."""
        self._job += 1
        self.what, self.share, self.fault = "starting", 0.0, None
        self._enter("computing")
        if self._worker is None and self._make is not None:
            self._worker = self._make()
        if self._worker is not None:
            self._worker.submit(self._job, order)

    def mark_stale(self) -> None:
        """The rig is not right just now: the old answer stands, and says that it is old."""
        self._drop()
        self._enter("stale" if self.answer is not None else "none")

    def cancel(self) -> None:
        """Stop computing; the old answer stands."""
        if self.is_computing:
            self._drop()
            self._enter("stopped")

    def forget(self) -> None:
        """Know nothing, as at the start."""
        self._drop()
        self.answer = None
        self._enter("none")

    def poll(self) -> None:
        """Take in what the worker has said; called often, never waits."""
        for told in self._worker.poll() if self._worker is not None else ():
            if told.job not in (self._job, ANY_JOB) or not self.is_computing:
                continue
            if told.answer is not None:
                # The worker was made for the task that gives this.
                self.answer, self.share = cast("Found", told.answer), 1.0
                self._rest()
                self._enter("fresh")
            elif told.fault is not None:
                self.fault, self.fault_is_bug = told.fault, told.bug
                self._rest()
                self._enter("failed")
            else:
                self.what, self.share = told.what, told.share
                self.progressed.emit()

    def close(self) -> None:
        """Let the worker go."""
        if self._worker is not None:
            self._worker.close()

    def _drop(self) -> None:
        """Hear no more of what is being computed."""
        self._job += 1
        if self.is_computing and self._worker is not None:
            if self._make is None:
                self._worker.cancel()
            self._rest()

    def _rest(self) -> None:
        """A worker that was made for one question is not kept."""
        if self._make is not None and self._worker is not None:
            self._worker.close()
            self._worker = None

    def _enter(self, state: State) -> None:
        self.state = state
        self.changed.emit()
