"""An asker that answers what the test says, in order, and keeps what was asked."""

from collections.abc import Sequence
from pathlib import Path

from sim.rig import Problem
from viewer.window.kit.asker import Answer, Asker


class Scripted(Asker):
    """Answers by keys and paths; a question nobody expected fails the test."""

    def __init__(self, *answers: str | Path | None) -> None:
        self.answers = list(answers)
        self.asked: list[str] = []
        self.problems: list[Problem] = []

    def _next(self, text: str) -> str | Path | None:
        self.asked.append(text)
        assert self.answers, f"nobody expected: {text}"
        return self.answers.pop(0)

    def choose(
        self,
        title: str,
        text: str,
        answers: Sequence[Answer],
        otherwise: str,
        uncalled: bool = False,  # noqa: ARG002
    ) -> str:
        answer = self._next(f"{title}: {text}")
        keys = [each.key for each in answers]
        letters = {each.text[each.text.index("&") + 1].lower() for each in answers}
        assert answer in keys
        assert otherwise in keys
        assert len(letters) == len(keys)
        return str(answer)

    def file_to_open(self, title: str, folder: Path | None, kinds: str) -> Path | None:  # noqa: ARG002
        answer = self._next(f"{title} in {folder}")
        assert answer is None or isinstance(answer, Path)
        return answer

    def file_to_save(self, title: str, suggestion: Path, kinds: str) -> Path | None:  # noqa: ARG002
        answer = self._next(f"{title} as {suggestion}")
        assert answer is None or isinstance(answer, Path)
        return answer

    def tell(self, title: str, text: str) -> None:
        self.asked.append(f"{title}: {text}")

    def list_problems(self, title: str, text: str, problems: Sequence[Problem]) -> None:
        self.asked.append(f"{title}: {text}")
        self.problems += problems
