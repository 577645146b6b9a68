"""A talk whose answers are kept meanwhile, and offered the next time it is held."""

from typing import Final, TypeVar

from viewer.interview.answers import AnswerError, Keys
from viewer.interview.asking_back import OpenError
from viewer.interview.draft import Draft, Kept
from viewer.interview.question import Question
from viewer.interview.said_in import unit_of
from viewer.interview.talk import Answer, Ask, Talk, Tell

KEPT: Final = "Your answers are kept and offered the next time."
Made = TypeVar("Made")


class KeptTalk(Talk[Made]):
    """A talk with a draft.

    draft : where the answers are kept; None for nowhere. what : what the talk is for.
    """

    def __init__(self, ask: Ask, tell: Tell, draft: Draft | None, what: str) -> None:
        super().__init__(ask, tell, remembers=True)
        self._draft, self._what = draft, what
        self.is_kept = False

    def take_up(self) -> None:
        """Offer the answers of the last time, if there are any."""
        if self._draft is None:
            return
        try:
            if not self._draft.take():
                self._tell(
                    f"Another Bindpoint is asking for {self._what}; answers here are not kept."
                )
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
        asks = "Go on from there? [yes] "
        if found.rig and found.rig != self._draft.rig:
            self._tell(f"Check: they are of {found.rig}, and this is {self._draft.rig}.")
            asks = f"Go on from there all the same, for {self._draft.rig}? yes or no: "
        if self.agrees(asks, anew, enter="[yes]" in asks):
            self._replay(found)
        else:
            self._draft.forget()
            self.is_kept = False

    def _replay(self, kept: Kept) -> None:
        """Give the answers once more, as far as the same questions are asked."""
        left = dict(kept.answers)
        self._before = dict(kept.before)
        for name, typed in kept.answers:
            question = self.again(name)
            if question is None:
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
        self.taken_up()

    def again(self, name: str) -> Question | None:
        """The question of a kept answer, where it is asked again; else None."""
        question = self.next()
        return question if question is not None and question.name == name else None

    def taken_up(self) -> None:
        """Called when the answers of the last time are there again."""

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
