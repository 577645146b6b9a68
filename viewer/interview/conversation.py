"""The conversation: asking, stepping back, warning, and writing the file."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any, Final

from sim.derive import derive
from sim.ride_doubts import ride_doubts
from sim.rig import Rig, RigError, rig_from_data, rig_text
from sim.rig.notes import notes_on
from sim.rig.rig import SCHEMA
from sim.rig.validation import sound_sections
from sim.rig.writing import save_text
from sim.table.problems import one_problem
from viewer.interview.answers import AnswerError, Keys, assemble
from viewer.interview.asking_back import HELP, Open, OpenError
from viewer.interview.draft import Draft, Kept
from viewer.interview.question import Question
from viewer.interview.questions import next_question
from viewer.interview.said_in import said_in, unit_of
from viewer.interview.unfinished import settled, told_now
from viewer.words.problems import error_words, problem_words
from viewer.words.remarks import said

Ask = Callable[[str], str]
"""Shows a prompt and gives back what was typed. Raises EOFError when nobody answers any more."""
Tell = Callable[[str], None]
"""Shows a text."""

_BACK: Final = frozenset({"back", "b", "<"})
_HELP: Final = frozenset({"?", "help", "h"})
_QUIT: Final = frozenset({"quit", "q", "exit"})
_USUAL: Final = "-"
"""Takes the usual value where an answer from before stands in the brackets."""
MEASURE: Final = (
    "Measure at ride height: the vehicle finished, its weight on its wheels, on level ground; "
    "never with the axle hanging. Type every value with its unit, such as 36 5/16 in, 922 mm or "
    "3 1/4 deg."
)
WELCOME: Final = (
    f"{MEASURE} At any question: ? explains more, back goes one step back and shows what you said, "
    "quit ends without writing a rig file and keeps the answers for the next time; Enter alone "
    "takes the value in [brackets], which is then listed as assumed unless you said it."
)
ENDED: Final = "Ended early; no rig file was written."
KEPT: Final = "Your answers are kept and offered the next time."


def interview(ask: Ask, tell: Tell, draft: Draft | None = None) -> Rig | None:
    """Ask for a rig's measurements one at a time; None when the asking was ended early.

    draft : where the answers are kept meanwhile, and where those of the last time are; whoever
        gave it forgets it when the rig is safe.
    """
    talk = _Talk(ask, tell, draft)
    tell(WELCOME)
    try:
        talk.take_up()
        return talk.rig()
    except (EOFError, _EndedError):
        tell(f"{ENDED} {KEPT}" if talk.is_kept else ENDED)
        return None


def new_rig_file(
    path: str | PathLike[str],
    ask: Ask,
    tell: Tell,
    *,
    overwrite: bool = False,
    draft: Draft | None = None,
) -> Rig | None:
    """Hold the interview and write the rig as a commented file; None when ended early.

    Raises `RigError` when there is a file already and `overwrite` is not set, before the first
    question and also where one has come meanwhile, and when the file cannot be saved; the answers
    are then still in the draft.
    """
    _demand_new(path, overwrite)
    rig = interview(ask, tell, draft)
    if rig is not None:
        _demand_new(path, overwrite)
        save_text(rig_text(rig), path)
        if draft is not None:
            draft.forget()
    return rig


def _demand_new(path: str | PathLike[str], overwrite: bool) -> None:
    if not overwrite and Path(path).exists() and Path(path).stat().st_size:
        raise one_problem(str(path), "", "a file that exists already", "a new name")


class _EndedError(Exception):
    """Whoever is asked wants to stop."""


@dataclass(frozen=True)
class _Answer:
    """One answer: to which question, the keys it gives, and what was typed; "" for Enter alone."""

    name: str
    keys: Keys
    typed: str


class _Talk:
    """The state of one conversation: what was answered, and what was warned of."""

    def __init__(self, ask: Ask, tell: Tell, draft: Draft | None) -> None:
        self._ask = ask
        self._tell = tell
        self._draft = draft
        self._answers: list[_Answer] = []
        self._before: dict[str, str] = {}
        self._doubted: set[tuple[str, str]] = set()
        self._unit = ""
        self.is_kept = False

    def take_up(self) -> None:
        """Offer the answers of the last time, if there are any."""
        if self._draft is None:
            return
        try:
            if not self._draft.take():
                self._tell("Another Bindpoint is asking for this rig; answers here are not kept.")
                self._draft = None
                return
        except OSError as fault:
            self._cannot_keep(fault)
            return
        kept = self._draft.found()
        if kept is None:
            return
        self.is_kept = True
        count = len(dict(kept.answers) | dict(kept.before))
        when = f"{kept.written.astimezone():%d %b %Y, %H:%M}"
        there = f"There are {count} answers" if count > 1 else "There is 1 answer"
        self._tell(f"{there} from {when}, when the questions were left.")
        if self._agrees("Go on from there?"):
            self._replay(kept)
        else:
            self._draft.forget()
            self.is_kept = False

    def rig(self) -> Rig:
        """Ask until a sound rig is there."""
        while True:
            names = [answer.name for answer in self._answers]
            question = next_question(self._said(), names)
            if question is not None:
                self._put(question)
                continue
            try:
                rig = rig_from_data({"schema": SCHEMA} | assemble(self._said()))
            except RigError as fault:
                self._tell(f"{error_words(fault)}\nThe last answer is asked again.")
                self._back()
                continue
            if not self._stands(rig):
                self._back()
                continue
            for line in derive(rig).derived:
                self._tell(f"Worked out: {said(line.remark)}.")
            for assumed in rig.assumed:
                self._tell(f"{said(assumed.remark)}.")
            return rig

    def _stands(self, rig: Rig) -> bool:
        """Whether a rig is kept; where a joint would touch as the vehicle stands, that is asked."""
        doubts = list(ride_doubts(rig))
        for note in doubts:
            self._tell(f"Check: {said_in(self._unit, said(note))}.")
        while doubts:
            low = self._ask("Enter keeps it as it is, back changes an answer: ").strip().lower()
            if low in _QUIT:
                raise _EndedError
            if low in _BACK or not low:
                return not low
        return True

    def _said(self) -> dict[str, Any]:
        return {key: value for answer in self._answers for key, value in answer.keys.items()}

    def _back(self) -> None:
        if self._answers:
            last = self._answers.pop()
            self._before[last.name] = last.typed
            self._keep()
        else:
            self._tell("This is the first question.")

    def _put(self, question: Question) -> None:
        """Ask one question; the answer is kept when it is sound with those before it."""
        self._tell(question.means)
        before = self._before.get(question.name, "")
        if before:
            usual = f", {_USUAL} takes {question.default}" if question.default else ""
            self._tell(f"You said {before}: Enter keeps it{usual}.")
        text = self._ask(f"{question.asks} [{before}] " if before else question.prompt).strip()
        low = text.lower()
        if low in _QUIT:
            raise _EndedError
        if low in _BACK:
            self._back()
        elif low in _HELP:
            self._tell(question.beware or "There is nothing more to say about it.")
        elif text == _USUAL and question.default:
            self._accept(question, {}, "")
        elif not text and not before and not question.default:
            self._tell("An answer is needed here.")
        elif not text and not before:
            self._accept(question, {}, "")
        else:
            self._take(question, text or before)

    def _accept(self, question: Question, keys: Keys, typed: str) -> None:
        self._answers.append(_Answer(question.name, keys, typed))
        self._before.pop(question.name, None)
        self._keep()

    def _take(self, question: Question, text: str) -> None:
        """Take an answer if it can be read, and is sound with those before it."""
        read = self._read(question, text)
        if read is None:
            return
        keys, typed = read
        before, after = self._said(), self._said() | dict(keys)
        known = set(told_now(before, sound_sections(assemble(before))[1]))
        sections, problems = sound_sections(assemble(after))
        fresh = [problem for problem in told_now(after, problems) if problem not in known]
        for problem in fresh:
            self._tell(said_in(unit_of(typed) or self._unit, problem_words(problem)))
        if fresh:
            self._tell("Answer again, or go back to an earlier answer.")
            return
        self._unit = unit_of(typed) or self._unit
        self._accept(question, keys, typed)
        self._doubt(settled(after, sections))

    def _doubt(self, sections: Mapping[str, Any]) -> None:
        """Tell what is odd, each once as long as it stays odd."""
        notes = {(note.code, note.key): note for note in notes_on(sections)}
        for key, note in notes.items():
            if key not in self._doubted:
                self._tell(f"Check: {said_in(self._unit, said(note))}.")
        self._doubted = set(notes)

    # Asking back

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
            text = self._ask(f"{left.asks} [{usual}] " if usual else f"{left.asks} ").strip()
            low = text.lower() or usual
            if low in _QUIT:
                raise _EndedError
            if low in _BACK:
                return None
            begun = [word for word in words if word == low] or [
                word for word in words if low and word.startswith(low)
            ]
            if low in _HELP:
                self._tell(HELP)
            elif low in {"", "n", "no"}:
                return None
            elif len(begun) == 1:
                return left.options[begun[0]]
            elif any(letter.isdigit() for letter in low):
                return text  # said anew, as a whole
            else:
                self._tell(f"Type {' or '.join(words)}, or the whole answer anew.")

    def _agrees(self, asks: str) -> bool:
        while True:
            low = self._ask(f"{asks} [yes] ").strip().lower()
            if low in _QUIT:
                raise _EndedError
            if low in {"", "y", "yes"}:
                return True
            if low in {"n", "no"}:
                return False
            self._tell("no: the questions begin anew, and those answers are thrown away.")

    # Keeping

    def _replay(self, kept: Kept) -> None:
        """Give the answers once more, as far as the same questions are asked."""
        left = dict(kept.answers)
        self._before = dict(kept.before)
        for name, typed in kept.answers:
            question = next_question(self._said(), [each.name for each in self._answers])
            if question is None or question.name != name:
                break
            keys: Keys = {}
            if typed:
                try:
                    keys = question.read(typed)
                except (AnswerError, OpenError):
                    break
                self._unit = unit_of(typed) or self._unit
            self._answers.append(_Answer(name, keys, typed))
            del left[name]
        self._before |= left
        sections = sound_sections(assemble(self._said()))[0]
        self._doubted = {
            (note.code, note.key) for note in notes_on(settled(self._said(), sections))
        }

    def _keep(self) -> None:
        if self._draft is None:
            return
        answers = [(answer.name, answer.typed) for answer in self._answers]
        try:
            self._draft.keep(answers, self._before)
            self.is_kept = bool(answers or self._before)
        except OSError as fault:
            self._cannot_keep(fault)

    def _cannot_keep(self, fault: OSError) -> None:
        """Say it once, and go on without."""
        self._tell(f"Your answers cannot be kept meanwhile ({fault.strerror or fault}).")
        self._draft, self.is_kept = None, False
