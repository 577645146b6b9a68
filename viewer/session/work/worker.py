"""The process that computes: whatever it does, the window stays quick, and it can be stopped.

A check takes seconds and holds the interpreter; in a process of its own it freezes nothing, and
ending that process ends the work at once. It is started early, since a new process needs a second
or two to read its libraries.
"""

import copyreg
from abc import ABC, abstractmethod
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing import get_context
from multiprocessing.connection import Connection
from types import MappingProxyType
from typing import Any

from geometry.errors import BindpointError
from sim.bench.both_cores import unasked
from viewer.session.text.order import Order
from viewer.session.work.tasks import Task, compute, make_ready
from viewer.words.problems import error_words


@dataclass(frozen=True)
class Told:
    """Something a worker says about the job of this number.

    Attributes
    ----------
    job : its number.
    what, share : what is being done, and the share that is done.
    answer : what the task gives, once it is there.
    fault : why there can be none, in words; `bug` when the program is at fault.
    """

    job: int
    what: str = ""
    share: float = 0.0
    answer: object | None = None
    fault: str | None = None
    bug: bool = False


class Worker(ABC):
    """Computes one thing about rigs, one at a time; the newest job is the one that counts."""

    @abstractmethod
    def other(self, task: Task) -> "Worker":
        """A worker of the same kind, for another task."""

    @abstractmethod
    def submit(self, job: int, order: Order) -> None:
        """Start on an order and drop whatever was being done."""

    @abstractmethod
    def poll(self) -> list[Told]:
        """What has been said since the last time; never waits."""

    @abstractmethod
    def cancel(self) -> None:
        """Drop what is being done."""

    @abstractmethod
    def close(self) -> None:
        """End for good."""


class InProcess(Worker):
    """Computes in a process of its own."""

    def __init__(self, task: Task = "check") -> None:
        self._task: Task = task
        self._busy = False
        self._start()

    def other(self, task: Task) -> "InProcess":
        """Another process."""
        return InProcess(task)

    def submit(self, job: int, order: Order) -> None:
        """Send the job; a process that is busy with another one is ended and replaced."""
        if self._busy or not self._process.is_alive():
            self.cancel()
        self._busy = True
        self._pipe.send((job, order))

    def poll(self) -> list[Told]:
        """Read what has come."""
        said: list[Told] = []
        try:
            while self._pipe.poll():
                said.append(self._pipe.recv())
        except (EOFError, OSError):
            fault = "the process that computes has ended; change something to start it again"
            said.append(Told(ANY_JOB, fault=fault, bug=True))
            self._start()
        if any(each.answer is not None or each.fault is not None for each in said):
            self._busy = False
        return said

    def cancel(self) -> None:
        """End the process and start a fresh one."""
        if self._busy or not self._process.is_alive():
            self.close()
            self._start()

    def close(self) -> None:
        """End the process."""
        self._process.kill()
        self._process.join(_PATIENCE)
        self._pipe.close()

    def _start(self) -> None:
        context = get_context("spawn")
        self._pipe, far = context.Pipe()
        self._process = context.Process(target=_serve, args=(far, self._task), daemon=True)
        with unasked():
            self._process.start()
        far.close()
        self._busy = False


ANY_JOB = -1
"""Number of a message about whatever job is under way."""

_PATIENCE = 2.0
"""s. A process that was killed is gone long before."""


def _view(plain: dict[Any, Any]) -> MappingProxyType[Any, Any]:
    return MappingProxyType(plain)


def _plain(view: MappingProxyType[Any, Any]) -> tuple[Any, tuple[dict[Any, Any]]]:
    return _view, (dict(view),)


def _serve(pipe: Connection, task: Task) -> None:
    """Compute whatever comes until the other side is gone."""
    copyreg.pickle(MappingProxyType, _plain)
    # Read before the first job comes.
    make_ready(task)
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            pipe.send(_answer(pipe, task, *pipe.recv()))


def _answer(pipe: Connection, task: Task, job: int, order: Order) -> Told:
    def tell(what: str, share: float) -> None:
        pipe.send(Told(job, what, share))

    try:
        return Told(job, "", 1.0, compute(task, order, tell))
    except BindpointError as error:
        return Told(job, fault=error_words(error))
    except Exception as error:  # noqa: BLE001  whatever it is, the window has to hear of it
        return Told(job, fault=f"{type(error).__name__}: {error}", bug=True)
