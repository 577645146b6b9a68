"""The answer to the rig as it stands: fresh, stale while a new one is computed, or a fault."""

from sim.check import Check
from viewer.session.work.asking import Asking


class Answers(Asking[Check]):
    """The check of the rig."""

    @property
    def check(self) -> Check | None:
        """The last answer, which may be old."""
        return self.answer

    @check.setter
    def check(self, check: Check | None) -> None:
        self.answer = check
