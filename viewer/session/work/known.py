"""A worker that has the answer already: of a version of the rig that was computed before."""

from sim.check import Check
from viewer.session.text.order import Order
from viewer.session.work.tasks import Task
from viewer.session.work.worker import Told, Worker


class Known(Worker):
    """Gives one answer to every check, and never computes."""

    def __init__(self, check: Check | None) -> None:
        """Give this answer; None to say nothing at all."""
        self._check = check
        self._told: list[Told] = []

    def other(self, task: Task) -> Worker:  # noqa: ARG002
        """One that says nothing: nothing else is known of that version."""
        return Known(None)

    def submit(self, job: int, order: Order) -> None:  # noqa: ARG002
        """Have the answer ready."""
        self._told = [] if self._check is None else [Told(job, share=1.0, answer=self._check)]

    def poll(self) -> list[Told]:
        """Hand it out."""
        told, self._told = self._told, []
        return told

    def cancel(self) -> None:
        """Say nothing."""
        self._told = []

    def close(self) -> None:
        """Nothing to end."""
