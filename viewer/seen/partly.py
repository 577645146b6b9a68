"""An answer of which only a part was understood: that part is kept, the rest is asked for."""

from collections.abc import Sequence

from viewer.interview.answers import AnswerError


class PartlyError(AnswerError):
    """Some words of an answer that nobody understood.

    read : the part that was understood, as it may be typed. left : the words that were not.
    """

    def __init__(self, read: str, left: Sequence[str], expected: str) -> None:
        self.read, self.left = read, tuple(left)
        odd = ", ".join(f'"{each}"' for each in left)
        super().__init__(f"Understood: {read}. Not understood: {odd}, expected {expected}.")
