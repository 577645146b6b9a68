"""The answer to the rig as it stands: fresh, stale while a new one is computed, or a fault."""

from pathlib import Path
from typing import Literal

from psygnal import Signal

from sim.check import Check
from viewer.session.worker import ANY_JOB, Worker

State = Literal["none", "fresh", "stale", "computing", "failed", "stopped"]
"""none: nothing asked yet. fresh: the answer is that of the rig. stale: the rig is not right just
now. computing: a new one is on its way. failed: there can be none. stopped: computing was
cancelled."""


class Answers:
    """Asks a worker and keeps the last answer until there is a better one.

    Signals
    -------
    changed : the answer or its state is another one.
    progressed : more is done; `what` and `share` tell.
    """

    changed = Signal()
    progressed = Signal()

    def __init__(self, worker: Worker) -> None:
        self._worker = worker
        self._job = 0
        self.check: Check | None = None
        self.state: State = "none"
        self.what, self.share = "", 0.0
        self.fault: str | None = None
        self.fault_is_bug = False

    @property
    def is_computing(self) -> bool:
        """Whether an answer is on its way."""
        return self.state == "computing"

    def ask(self, text: str, name: str, folder: Path) -> None:
        """Want the answer to a rig; whatever was on its way is dropped."""
        self._job += 1
        self.what, self.share, self.fault = "starting", 0.0, None
        self._enter("computing")
        self._worker.submit(self._job, text, name, folder)

    def mark_stale(self) -> None:
        """The rig is not right just now: the old answer stands, and says that it is old."""
        if self.is_computing:
            self._worker.cancel()
        self._job += 1
        self._enter("stale" if self.check is not None else "none")

    def cancel(self) -> None:
        """Stop computing; the old answer stands."""
        if self.is_computing:
            self._worker.cancel()
            self._job += 1
            self._enter("stopped")

    def poll(self) -> None:
        """Take in what the worker has said; called often, never waits."""
        for told in self._worker.poll():
            if told.job not in (self._job, ANY_JOB) or not self.is_computing:
                continue
            if told.check is not None:
                self.check, self.share = told.check, 1.0
                self._enter("fresh")
            elif told.fault is not None:
                self.fault, self.fault_is_bug = told.fault, told.bug
                self._enter("failed")
            else:
                self.what, self.share = told.what, told.share
                self.progressed.emit()

    def close(self) -> None:
        """Let the worker go."""
        self._worker.close()

    def _enter(self, state: State) -> None:
        self.state = state
        self.changed.emit()
