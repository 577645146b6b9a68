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
from viewer.interview.answers import Keys
from viewer.interview.assembling import assemble
from viewer.interview.draft import Draft
from viewer.interview.kept_talk import KEPT, KeptTalk
from viewer.interview.question import Question
from viewer.interview.said_in import said_in, unit_of
from viewer.interview.script import next_question, settled, told_now
from viewer.interview.talk import Ask, EndedError, Tell
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


class _RigTalk(KeptTalk[Rig]):
    """The talk about a rig, whose answers are kept, held against one another and warned of."""

    def __init__(self, ask: Ask, tell: Tell, draft: Draft | None) -> None:
        super().__init__(ask, tell, draft, "this rig")
        self._doubted: set[tuple[str, str]] = set()

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

    def taken_up(self) -> None:
        """What is odd about answers from the last time was told then."""
        self._doubted = set(self._notes())
