"""The answers of an interview that is not over, kept against Ctrl+C and a closed window."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

from sim.kept.lock import Lock
from viewer.state_folder import keep, recall, state_folder

_FORMAT = 1

WINDOW = "the window"
"""Whose the answers are that were given in a window, before there is a file."""


def drafts_folder() -> Path:
    """Where they are kept."""
    return state_folder() / "drafts"


@dataclass(frozen=True)
class Kept:
    """What was answered.

    Attributes
    ----------
    answers : names of questions and what was typed, in order; "" for what Enter alone took.
    before : what was typed at questions that lie ahead again since somebody went back.
    written : when.
    """

    answers: tuple[tuple[str, str], ...]
    before: Mapping[str, str]
    written: datetime


class Draft:
    """The answers for one rig file.

    whose : the rig file that they are for, or `WINDOW`.
    """

    def __init__(self, whose: Path | str, folder: Path | None = None) -> None:
        self._whose = str(whose.absolute()) if isinstance(whose, Path) else whose
        place = folder or drafts_folder()
        name = sha256(self._whose.encode("utf-8", "surrogatepass")).hexdigest()[:32]
        self.file = place / f"{name}.json"
        self._lock = Lock(place / f"{name}.lock")

    def take(self) -> bool:
        """Whether nobody else is answering for the same file. Raises OSError for a bad place."""
        self.file.parent.mkdir(parents=True, exist_ok=True)
        return self._lock.take()

    def found(self) -> Kept | None:
        """What was kept the last time, if it is sound and for this very file."""
        data = recall(self.file)
        if not isinstance(data, dict) or data.get("format") != _FORMAT:
            return None
        answers, before = data.get("answers"), data.get("before")
        if data.get("whose") != self._whose or not isinstance(before, dict):
            return None
        if not all(isinstance(text, str) for pair in before.items() for text in pair):
            return None
        # Whoever went all the way back has only those before.
        if not (
            isinstance(answers, list) and all(map(_is_answer, answers)) and (answers or before)
        ):
            return None
        try:
            written = datetime.fromisoformat(str(data.get("written")))
        except ValueError:
            return None
        return Kept(tuple((name, text) for name, text in answers), before, written)

    def keep(self, answers: Sequence[tuple[str, str]], before: Mapping[str, str]) -> None:
        """Keep the answers as they stand. Raises OSError where that fails."""
        data = {
            "format": _FORMAT,
            "whose": self._whose,
            "written": datetime.now(UTC).isoformat(),
            "answers": [list(each) for each in answers],
            "before": dict(before),
        }
        keep(self.file, data)

    def forget(self) -> None:
        """The rig is written, or the answers were thrown away."""
        with suppress(OSError):
            self.file.unlink(missing_ok=True)

    def close(self) -> None:
        """Let others answer for this file."""
        self._lock.release()


def _is_answer(each: object) -> bool:
    return isinstance(each, list) and len(each) == 2 and all(isinstance(t, str) for t in each)
