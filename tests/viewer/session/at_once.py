"""A worker that computes at once, for tests that wait for an answer and not for a process."""

from geometry.errors import BindpointError
from viewer.session.text.order import Order
from viewer.session.work.tasks import Task, compute
from viewer.session.work.worker import Told, Worker
from viewer.words.problems import error_words


class AtOnce(Worker):
    """Computes where it is asked."""

    def __init__(self, task: Task = "check") -> None:
        self._task: Task = task
        self._told: list[Told] = []

    def other(self, task: Task) -> "AtOnce":
        """One that does another task at once."""
        return AtOnce(task)

    def submit(self, job: int, order: Order) -> None:
        """Compute and keep what was said."""

        def tell(what: str, share: float) -> None:
            self._told.append(Told(job, what, share))

        try:
            found = compute(self._task, order, tell)
            self._told.append(Told(job, "", 1.0, found))
        except BindpointError as error:
            self._told.append(Told(job, fault=error_words(error)))

    def poll(self) -> list[Told]:
        """Hand out what was said."""
        said, self._told = self._told, []
        return said

    def cancel(self) -> None:
        """Nothing is ever under way."""
        self._told = []

    def close(self) -> None:
        """Nothing to end."""
