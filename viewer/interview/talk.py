"""A talk: questions in turn, with a step back, help, a unit asked back, and an end at any time."""

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Final, Generic, TypeVar

from viewer.interview.answers import AnswerError, Keys
from viewer.interview.asking_back import HELP, Open, OpenError
from viewer.interview.question import Question
from viewer.interview.said_in import unit_of

Ask = Callable[[str], str]
"""Shows a prompt and gives back what was typed. Raises EOFError when nobody answers any more."""
Tell = Callable[[str], None]
"""Shows a text."""
Made = TypeVar("Made")

_BACK: Final = frozenset({"back", "b", "<"})
_HELP: Final = frozenset({"?", "help", "h"})
_QUIT: Final = frozenset({"quit", "q", "exit"})
_USUAL: Final = "-"
"""Takes the usual value where an answer from before stands in the brackets."""


class EndedError(Exception):
    """Whoever is asked wants to stop."""


@dataclass(frozen=True)
class Answer:
    """One answer: to which question, the keys it gives, and what was typed; "" for Enter alone."""

    name: str
    keys: Keys
    typed: str


class Talk(ABC, Generic[Made]):
    """The state of one talk: what was answered, in order, and what was answered before a step back.

    ask, tell : how to ask and to tell.
    remembers : whether an answer that was stepped back over is offered again.
    """

    def __init__(self, ask: Ask, tell: Tell, *, remembers: bool) -> None:
        self._ask, self._tell = ask, tell
        self._remembers = remembers
        self._answers: list[Answer] = []
        self._before: dict[str, str] = {}
        self._unit = ""

    @abstractmethod
    def next(self) -> Question | None:
        """The question that comes next; None when there are no more."""

    @abstractmethod
    def made(self) -> Made | None:
        """What came of all answers; None where it will not do, which is told."""

    def kept(self) -> None:
        """Called when the answers are others."""

    def accepted(self, keys: Keys) -> None:
        """Called with an answer that was just taken."""

    def fits(self, keys: Keys, typed: str) -> bool:
        """Whether an answer goes with those before it; if not, that is told."""
        del keys, typed
        return True

    def hold(self) -> Made:
        """Ask until something comes of it. Raises `EndedError`, or EOFError."""
        while True:
            question = self.next()
            if question is not None:
                self._put(question)
            elif (made := self.made()) is not None:
                return made
            else:
                self._back()

    def said(self) -> dict[str, Any]:
        """Everything answered so far."""
        return {key: value for answer in self._answers for key, value in answer.keys.items()}

    @property
    def answered(self) -> list[str]:
        """Names of the questions that are answered."""
        return [answer.name for answer in self._answers]

    def typed(self, prompt: str) -> str:
        """What is typed at a prompt, unless it is the wish to stop."""
        text = self._ask(prompt).strip()
        if text.lower() in _QUIT:
            raise EndedError
        return text

    def agrees(self, asks: str, help_: str, *, enter: bool = True) -> bool:
        """Whether yes is typed, or with `enter` Enter alone; what is no answer gets help."""
        while True:
            low = self.typed(asks).lower()
            if low in {"y", "yes"} or (enter and not low):
                return True
            if low in {"n", "no"}:
                return False
            self._tell(help_)

    def keeps(self, asks: str) -> bool:
        """Whether Enter alone is typed, rather than the wish to step back."""
        while (low := self.typed(asks).lower()) and low not in _BACK:
            pass
        return not low

    def _back(self) -> None:
        if not self._answers:
            self._tell("This is the first question.")
            return
        last = self._answers.pop()
        if self._remembers:
            self._before[last.name] = last.typed
        self.kept()

    def _put(self, question: Question) -> None:
        """Ask one question; the answer is kept when it is sound with those before it."""
        if question.means:
            self._tell(question.means)
        before = self._before.get(question.name, "")
        if before:
            usual = f", {_USUAL} takes {question.default}" if question.default else ""
            self._tell(f"You said {before}: Enter keeps it{usual}.")
        text = self.typed(f"{question.asks} [{before}] " if before else question.prompt)
        low = text.lower()
        if low in _BACK:
            self._back()
        elif low in _HELP:
            self._tell(question.beware or "There is nothing more to say about it.")
        elif question.default and (text == _USUAL or not (text or before)):
            self._accept(question, {}, "")
        elif text or before:
            self._take(question, text or before)
        else:
            self._tell("An answer is needed here.")

    def _take(self, question: Question, text: str) -> None:
        """Take an answer if it can be read, and goes with those before it."""
        read = self._read(question, text)
        if read is not None and self.fits(*read):
            keys, typed = read
            self._unit = unit_of(typed) or self._unit
            self._accept(question, keys, typed)
            self.accepted(keys)

    def _accept(self, question: Question, keys: Keys, typed: str) -> None:
        self._answers.append(Answer(question.name, keys, typed))
        self._before.pop(question.name, None)
        self.kept()

    def _read(self, question: Question, text: str) -> tuple[Keys, str] | None:
        """The keys of an answer with what it leaves open asked back; None where there is none."""
        while True:
            try:
                return question.read(text), text
            except OpenError as error:
                whole = self._clear_up(error.left)
                if whole is None:
                    return None
                text = whole
            except AnswerError as fault:
                self._tell(str(fault))
                return None

    def _clear_up(self, left: Open) -> str | None:
        """The whole answer; None when the question shall be put once more."""
        words = list(left.options)
        usual = words[0] if len(words) == 1 else ""
        if left.usual and self._unit in words and "deg" not in words:
            usual = self._unit
        while True:
            text = self.typed(f"{left.asks} [{usual}] " if usual else f"{left.asks} ")
            low = text.lower() or usual
            begun = [word for word in words if word == low] or [
                word for word in words if low and word.startswith(low)
            ]
            if low in _HELP:
                self._tell(HELP)
            elif low in _BACK or low in {"", "n", "no"}:
                return None
            elif len(begun) == 1:
                return left.options[begun[0]]
            elif any(letter.isdigit() for letter in low):
                return text  # said anew, as a whole
            else:
                self._tell(f"Type {' or '.join(words)}, or the whole answer anew.")
