"""The answers of an interview that is not over, kept against Ctrl+C and a closed window."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, ValidationError

from sim.kept.lock import Lock
from viewer.state_folder import keep, recall, state_folder

WINDOW = "the window"
"""Whose the answers are that were given in a window, before there is a file."""


def drafts_folder() -> Path:
    """Where they are kept."""
    return state_folder() / "drafts"


class Kept(BaseModel):
    """What was answered.

    Attributes
    ----------
    format : of the file.
    whose : the rig file that it is for, or `WINDOW`.
    rig : whose joint they are of, where that is not the file; "" where it is, or nobody knows.
    answers : names of questions and what was typed, in order; "" for what Enter alone took.
    before : what was typed at questions that lie ahead again since somebody went back.
    written : when.
    """

    model_config = ConfigDict(frozen=True)

    format: Literal[1] = 1
    whose: str
    written: datetime
    rig: str = ""
    answers: tuple[tuple[str, str], ...]
    before: dict[str, str]


class Draft:
    """The answers for one rig file.

    whose : the rig file that they are for, or `WINDOW`.
    rig : the rig of the joint that they are of, where that is not the file itself.
    """

    def __init__(self, whose: Path | str, folder: Path | None = None, rig: str = "") -> None:
        self.rig = rig
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
        try:
            kept = Kept.model_validate(recall(self.file))
        except ValidationError:
            return None
        # Whoever went all the way back has only those before.
        return kept if kept.whose == self._whose and (kept.answers or kept.before) else None

    def keep(self, answers: Sequence[tuple[str, str]], before: Mapping[str, str]) -> None:
        """Keep the answers as they stand. Raises OSError where that fails."""
        kept = Kept(
            whose=self._whose,
            rig=self.rig,
            written=datetime.now(UTC),
            answers=tuple(answers),
            before=dict(before),
        )
        keep(self.file, kept.model_dump(mode="json"))

    def forget(self) -> None:
        """The rig is written, or the answers were thrown away."""
        with suppress(OSError):
            self.file.unlink(missing_ok=True)

    def close(self) -> None:
        """Let others answer for this file."""
        self._lock.release()
