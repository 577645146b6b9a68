"""A session on a demo rig, answered once for all tests that only read it."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sim.check import Check, check
from sim.pose import PoseCheck
from sim.rig import load_rig
from tests.kept import kept
from viewer.session.session import Session
from viewer.session.text.document import Document
from viewer.session.text.order import Order
from viewer.session.work.tasks import Task
from viewer.session.work.worker import Told, Worker

RIGS = Path(__file__).parents[3] / "models" / "rigs"


@kept
def checked(name: str) -> Check:
    """The answer to a demo rig."""
    return check(load_rig(RIGS / f"{name}.toml"))


class Scripted(Worker):
    """A worker that answers what and when the test says."""

    def __init__(self) -> None:
        self.jobs: list[tuple[int, str]] = []
        self.cancelled = 0
        self.others: dict[Task, Scripted] = {}
        self.without: tuple[str, ...] = ()
        self._told: list[Told] = []

    def other(self, task: Task) -> "Scripted":
        self.others[task] = Scripted()
        return self.others[task]

    def submit(self, job: int, order: Order) -> None:
        self.jobs.append((job, order.text))
        self.without = order.without

    def say(self, **words: object) -> None:
        """Say something about the newest job."""
        self._told.append(Told(self.jobs[-1][0], **words))  # type: ignore[arg-type]

    def poll(self) -> list[Told]:
        said, self._told = self._told, []
        return said

    def cancel(self) -> None:
        self.cancelled += 1

    def close(self) -> None:
        self.cancelled += 1


@pytest.fixture
def worker() -> Scripted:
    return Scripted()


@pytest.fixture
def open_rig(worker: Scripted) -> Iterator[Callable[[str], Session]]:
    """Opens a demo rig in a session that has its answer already."""
    opened: list[Session] = []

    def opening(name: str = "long-legged-trail-wagon") -> Session:
        session = Session(Document.open(RIGS / f"{name}.toml"), worker)
        worker.say(answer=checked(name), share=1.0)
        session.tick()
        opened.append(session)
        return session

    yield opening
    for session in opened:
        session.close()


def out_of_reach(now: PoseCheck) -> PoseCheck:
    """The same pose, had suspension and shaft not got there."""
    state = replace(now.state, line=replace(now.state.line, slip=np.array(np.nan)))
    return replace(now, state=state, joints={})
