"""The conversation: asking, stepping back, warning, and writing the file."""

from collections.abc import Callable
from os import PathLike
from pathlib import Path
from typing import Any, Final

from sim.derive import derive
from sim.rig import Note, Rig, RigError, rig_from_data, rig_text
from sim.rig.notes import notes_on
from sim.rig.problems import one_problem
from sim.rig.rig import SCHEMA
from sim.rig.validation import sound_sections
from sim.rig.writing import save_text
from viewer.interview.answers import AnswerError, Keys, assemble
from viewer.interview.question import Question
from viewer.interview.questions import next_question
from viewer.interview.unfinished import settled, told_now

Ask = Callable[[str], str]
"""Shows a prompt and gives back what was typed. Raises EOFError when nobody answers any more."""
Tell = Callable[[str], None]
"""Shows a text."""

_BACK: Final = frozenset({"back", "b", "<"})
_HELP: Final = frozenset({"?", "help", "h"})
_QUIT: Final = frozenset({"quit", "q", "exit"})
MEASURE: Final = (
    "Measure at ride height: the vehicle finished, its weight on its wheels, on level ground; "
    "never with the axle hanging. Type every value with its unit, such as 36 5/16 in, 922 mm or "
    "3 1/4 deg."
)
WELCOME: Final = (
    f"{MEASURE} At any question: ? explains more, back goes one step back, quit ends without "
    "writing; Enter alone takes the value in [brackets], which is then listed as assumed."
)


def interview(ask: Ask, tell: Tell) -> Rig | None:
    """Ask for a rig's measurements one at a time; None when the asking was ended early."""
    talk = _Talk(ask, tell)
    tell(WELCOME)
    try:
        return talk.rig()
    except (EOFError, _EndedError):
        tell("Ended early; nothing was written.")
        return None


def new_rig_file(
    path: str | PathLike[str], ask: Ask, tell: Tell, *, overwrite: bool = False
) -> Rig | None:
    """Hold the interview and write the rig as a commented file; None when ended early.

    Raises `RigError` before the first question when there is a file already and `overwrite` is
    not set, and when the file cannot be saved.
    """
    if Path(path).exists() and not overwrite:
        raise one_problem(str(path), "", "a file that exists already", "a new name")
    rig = interview(ask, tell)
    if rig is not None:
        save_text(rig_text(rig), path)
    return rig


class _EndedError(Exception):
    """Whoever is asked wants to stop."""


class _Talk:
    """The state of one conversation: what was answered, and what was warned of."""

    def __init__(self, ask: Ask, tell: Tell) -> None:
        self._ask = ask
        self._tell = tell
        self._answers: list[tuple[str, Keys]] = []
        self._warned: set[Note] = set()

    def rig(self) -> Rig:
        """Ask until a sound rig is there."""
        while True:
            names = [name for name, _ in self._answers]
            question = next_question(self._said(), names)
            if question is not None:
                self._put(question)
                continue
            try:
                rig = rig_from_data({"schema": SCHEMA} | assemble(self._said()))
            except RigError as fault:
                self._tell(f"{fault}\nThe last answer is asked again.")
                self._back()
                continue
            for line in derive(rig).derived:
                self._tell(f"Worked out: {line.says}.")
            for assumed in rig.assumed:
                self._tell(f"{assumed.says}.")
            return rig

    def _said(self) -> dict[str, Any]:
        return {key: value for _, keys in self._answers for key, value in keys.items()}

    def _back(self) -> None:
        if self._answers:
            self._answers.pop()
        else:
            self._tell("This is the first question.")

    def _put(self, question: Question) -> None:
        """Ask one question; the answer is kept when it is sound with those before it."""
        self._tell(question.means)
        text = self._ask(question.prompt).strip()
        low = text.lower()
        if low in _QUIT:
            raise _EndedError
        if low in _BACK:
            self._back()
        elif low in _HELP:
            self._tell(question.beware or "There is nothing more to say about it.")
        elif not text and not question.default:
            self._tell("An answer is needed here.")
        elif not text:
            self._answers.append((question.name, {}))
        else:
            self._take(question, text)

    def _take(self, question: Question, text: str) -> None:
        try:
            keys = question.read(text)
        except AnswerError as fault:
            self._tell(str(fault))
            return
        before, after = self._said(), self._said() | dict(keys)
        known = set(told_now(before, sound_sections(assemble(before))[1]))
        sections, problems = sound_sections(assemble(after))
        fresh = [problem for problem in told_now(after, problems) if problem not in known]
        for problem in fresh:
            self._tell(problem.says)
        if fresh:
            self._tell("Answer again, or go back to an earlier answer.")
            return
        self._answers.append((question.name, keys))
        for note in notes_on(settled(after, sections)):
            if note not in self._warned:
                self._warned.add(note)
                self._tell(f"Check: {note.says}.")
