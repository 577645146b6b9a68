"""What the bushes give, and the force on each, at any number of poses."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sim.frames import FloatArray, locked
from sim.suspension.links.members import Hold


@dataclass(frozen=True, eq=False)
class Give:
    """Give of each bush, in the order of `bushes`; nan where the links cannot close."""

    bushes: tuple[str, ...]
    mm: FloatArray
    """(bushes, ...) how far the bush is pressed from its middle, mm, never negative."""
    stretch: FloatArray
    """(rows, ...) the rows of the closure, mm: a link pulled longer is positive."""
    force: FloatArray
    """(rows, ...) force in each row, N: positive pulls a link."""

    @property
    def most(self) -> FloatArray:
        """(...) the largest give of all bushes, mm."""
        most: FloatArray = self.mm.max(axis=0)
        return most


class Shares:
    """Gives of all bushes of a set of members, as a linear function of its rows."""

    def __init__(self, holds: Iterable[Hold]) -> None:
        held = list(holds)
        self.bushes = tuple(bush for hold in held for bush in hold.bushes)
        self.stiffness = np.array([row.stiffness for hold in held for row in hold.rows])
        self.matrix = np.zeros((len(self.bushes), 3, self.stiffness.size))
        bush = row = 0
        for hold in held:
            bushes, _, rows = hold.shares.shape
            self.matrix[bush : bush + bushes, :, row : row + rows] = hold.shares
            bush, row = bush + bushes, row + rows

    def mm(self, e: FloatArray) -> FloatArray:
        """(bushes, ...) give for rows (rows, ...), mm."""
        parts = np.tensordot(self.matrix, e, axes=1)
        give: FloatArray = np.sqrt(np.sum(parts * parts, axis=1))
        return give

    def give(self, e: FloatArray) -> Give:
        """All of it, for rows (rows, ...)."""
        force = self.stiffness.reshape(-1, *([1] * (e.ndim - 1))) * e
        return Give(self.bushes, locked(self.mm(e)), locked(e), locked(force))
