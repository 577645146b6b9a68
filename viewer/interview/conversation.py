"""The conversation about a rig: keeping what was said, warning, and writing the file."""

from collections.abc import Mapping
from os import PathLike
from pathlib import Path
from typing import Any, Final

from sim.derive import derive
from sim.ride_doubts import ride_doubts
from sim.rig import Rig, RigError, rig_from_data, save_rig
from sim.rig.notes import notes_on
from sim.rig.rig import SCHEMA
from sim.rig.validation import sound_sections
from sim.table.problems import one_problem
from viewer.interview.answers import AnswerError, Keys
from viewer.interview.asking_back import OpenError
from viewer.interview.assembling import assemble
from viewer.interview.draft import Draft, Kept
from viewer.interview.question import Question
from viewer.interview.said_in import said_in, unit_of
from viewer.interview.script import next_question, settled, told_now
from viewer.interview.talk import Answer, Ask, EndedError, Talk, Tell
from viewer.words.problems import error_words, problem_words
from viewer.words.remarks import said

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
    talk = _RigTalk(ask, tell, draft)
    tell(WELCOME)
    try:
        talk.take_up()
        return talk.hold()
    except (EOFError, EndedError):
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
        save_rig(rig, path)
        if draft is not None:
            draft.forget()
    return rig


def _demand_new(path: str | PathLike[str], overwrite: bool) -> None:
    if not overwrite and Path(path).exists() and Path(path).stat().st_size:
        raise one_problem(str(path), "", "a file that exists already", "a new name")


class _RigTalk(Talk[Rig]):
    """The talk about a rig, whose answers are kept, held against one another and warned of."""

    def __init__(self, ask: Ask, tell: Tell, draft: Draft | None) -> None:
        super().__init__(ask, tell, remembers=True)
        self._draft = draft
        self._doubted: set[tuple[str, str]] = set()
        self.is_kept = False

    def next(self) -> Question | None:
        """The next question of the script."""
        return next_question(self.said(), self.answered)

    def made(self) -> Rig | None:
        """The rig, if it is sound and is kept as it stands."""
        try:
            rig = rig_from_data({"schema": SCHEMA} | assemble(self.said()))
        except RigError as fault:
            self._tell(f"{error_words(fault)}\nThe last answer is asked again.")
            return None
        if not self._stands(rig):
            return None
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
        return not doubts or self.keeps("Enter keeps it as it is, back changes an answer: ")

    def fits(self, keys: Keys, typed: str) -> bool:
        """Whether an answer is sound with those before it."""
        before, after = self.said(), self.said() | dict(keys)
        known = set(told_now(before, sound_sections(assemble(before))[1]))
        problems = told_now(after, sound_sections(assemble(after))[1])
        fresh = [problem for problem in problems if problem not in known]
        for problem in fresh:
            self._tell(said_in(unit_of(typed) or self._unit, problem_words(problem)))
        if fresh:
            self._tell("Answer again, or go back to an earlier answer.")
        return not fresh

    def accepted(self, keys: Keys) -> None:
        """Tell what is odd, each once as long as it stays odd."""
        del keys
        notes = self._notes()
        for key, note in notes.items():
            if key not in self._doubted:
                self._tell(f"Check: {said_in(self._unit, said(note))}.")
        self._doubted = set(notes)

    def _notes(self) -> Mapping[tuple[str, str], Any]:
        """What is odd about what was said so far."""
        sections = sound_sections(assemble(self.said()))[0]
        return {(note.code, note.key): note for note in notes_on(settled(self.said(), sections))}

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
        found = self._draft.found()
        if found is None:
            return
        self.is_kept = True
        count = len(dict(found.answers) | dict(found.before))
        when = f"{found.written.astimezone():%d %b %Y, %H:%M}"
        there = f"There are {count} answers" if count > 1 else "There is 1 answer"
        self._tell(f"{there} from {when}, when the questions were left.")
        anew = "no: the questions begin anew, and those answers are thrown away."
        if self.agrees("Go on from there? [yes] ", anew):
            self._replay(found)
        else:
            self._draft.forget()
            self.is_kept = False

    def _replay(self, kept: Kept) -> None:
        """Give the answers once more, as far as the same questions are asked."""
        left = dict(kept.answers)
        self._before = dict(kept.before)
        for name, typed in kept.answers:
            question = self.next()
            if question is None or question.name != name:
                break
            keys: Keys = {}
            if typed:
                try:
                    keys = question.read(typed)
                except (AnswerError, OpenError):
                    break
                self._unit = unit_of(typed) or self._unit
            self._answers.append(Answer(name, keys, typed))
            del left[name]
        self._before |= left
        self._doubted = set(self._notes())

    def kept(self) -> None:
        """Keep the answers in the draft."""
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
