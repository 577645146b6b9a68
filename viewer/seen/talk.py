"""The talk about a failed joint: what settles most first, a first word soon, an end at any time."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final, Protocol

from sim.causes import (
    NOT_RULED_OUT,
    CauseCode,
    Graph,
    ImpossibleEvidenceError,
    SignCode,
    infer,
    load_graph,
    next_questions,
)
from sim.rig import Rig
from sim.seen import Inspection, demand_joint, doubts, inspection_from_data, signs_of
from sim.seen.inspection import KIND, SCHEMA
from sim.seen.parts import LONGEST_NOTE
from sim.seen.reading import sound_so_far
from viewer.interview.answers import AnswerError, Keys
from viewer.interview.asking_back import OpenError
from viewer.interview.assembling import assemble
from viewer.interview.draft import Draft
from viewer.interview.kept_talk import KEPT, KeptTalk
from viewer.interview.question import Question
from viewer.interview.said_in import said_in, unit_of
from viewer.interview.talk import Ask, EndedError, Tell
from viewer.seen.answers import NOTHING, UNSEEN
from viewer.seen.asking import BY_PHONE, Asking, Topic
from viewer.seen.on_several import placed
from viewer.seen.partly import PartlyError
from viewer.seen.question import NAME_ALL
from viewer.seen.topics import FIRST, LAST, TOPICS, topic_of
from viewer.words.problems import problem_words
from viewer.words.remarks import said

WELCOME: Final = (
    "Look before you wash anything. Enter alone: nobody looked. ? explains, back goes back,\n"
    "stop writes down what there is, quit keeps your answers for later. On the phone add: phone.\n"
    f"{NAME_ALL}"
)
ENDED: Final = "Ended early; no inspection was written."
FIRST_WORD: Final = 5
"""Questions after which a first word is told, and after as many again another one."""
_ENOUGH: Final = 2
"""Of them that have to be answered: on less nobody says a word."""
LITTLE: Final = 0.01
"""Bits under which no answer is expected to settle anything."""
_PROOF: Final = frozenset({"on yokes/tips", "on yokes/throat"})
"""Topics that alone show that yokes met, and are not passed over while they may have."""
_STOP: Final = frozenset({"stop", "done", "enough", "that's all", "that is all"})


class Knows(Protocol):
    """What is known of the vehicle besides its rig file."""

    def says(self, seen: Inspection) -> Mapping[SignCode, bool]:
        """Signs that it says of the joint itself."""

    def priors(self, seen: Inspection) -> Mapping[CauseCode, float]:
        """How likely some causes are before anything is seen, where that is not the trade's."""

    def word(self, seen: Inspection) -> str:
        """What can be said of an inspection so far, in a few lines; "" for nothing."""


class _EnoughError(Exception):
    """Whoever is asked wants to write down what there is."""


def look(
    ask: Ask,
    tell: Tell,
    rig: Rig,
    before: Inspection | None = None,
    *,
    draft: Draft | None = None,
    vehicle: Knows | None = None,
) -> Inspection | None:
    """Ask for what is seen on a joint of a rig; None when the asking was ended early.

    before : an inspection that is taken up where it was left.
    draft : where the answers are kept meanwhile; whoever gave it forgets it when they are safe.
    vehicle : what it says, for the next question and for the first word.
    """
    talk = SeenTalk(ask, tell, rig, before or _blank(), draft, vehicle)
    tell(WELCOME)
    try:
        talk.take_up()
        return talk.hold()
    except (EOFError, EndedError):
        tell(f"{ENDED} {KEPT}" if talk.is_kept else ENDED)
        return None


def _blank() -> Inspection:
    return inspection_from_data({"schema": SCHEMA, "kind": KIND})


class SeenTalk(KeptTalk[Inspection]):
    """The talk about one joint."""

    def __init__(
        self,
        ask: Ask,
        tell: Tell,
        rig: Rig,
        before: Inspection,
        draft: Draft | None,
        vehicle: Knows | None,
    ) -> None:
        super().__init__(ask, tell, draft, "this joint")
        self._rig, self._start = rig, before
        self._vehicle = vehicle
        self._graph: Graph = load_graph()
        self._doubted: set[tuple[str, str]] = set()
        self._worded = 0
        self._goes_on = False
        self._worth: dict[frozenset[tuple[SignCode, bool]], dict[str, float]] = {}

    def hold(self) -> Inspection:
        """Ask until there is nothing left to ask, or somebody says stop."""
        while True:
            try:
                return super().hold()
            except _EnoughError:
                made = self.made()
                if made is not None:
                    return made

    def typed(self, prompt: str) -> str:
        """What is typed, unless it is the wish to stop."""
        text = super().typed(prompt)
        if text.lower() in _STOP:
            raise _EnoughError
        return text

    def next(self) -> Question | None:
        """What comes next in the topic that was begun, or the topic that settles most."""
        asking = self._asking()
        answered = set(self.answered)
        begun = self._begun()
        for topic in begun:
            question = _open(topic, asking, answered)
            if question is not None:
                return question
        for topic in (*FIRST, *self._in_order(asking, begun), *LAST):
            if topic not in begun and topic.can_be_asked(asking):
                question = _open(topic, asking, answered)
                if question is not None:
                    return question
        return None

    def _begun(self) -> list[Topic]:
        """Topics of which a question was answered, in order."""
        topics = (topic_of(name) for name in self.answered)
        return list(dict.fromkeys(topic for topic in topics if topic is not None))

    def _by_worth(self, asking: Asking, begun: list[Topic]) -> list[Topic]:
        """Topics that are left, the most telling first."""
        worth = self._bits(asking, begun)
        left = [topic for topic in TOPICS if topic not in begun]
        return sorted(left, key=lambda topic: -worth.get(topic.name, 0.0))

    def _in_order(self, asking: Asking, begun: list[Topic]) -> list[Topic]:
        """Topics that are left; one that would prove what broke it before what settles little."""
        left = self._by_worth(asking, begun)
        worth = self._bits(asking, begun)
        able = [topic for topic in left if topic.can_be_asked(asking)]
        if not able or worth.get(able[0].name, LITTLE) >= LITTLE or not self._may_bind(asking):
            return left
        return sorted(left, key=lambda topic: topic.name not in _PROOF)

    def _may_bind(self, asking: Asking) -> bool:
        """Whether a joint that broke may have bound, for all that is known."""
        if asking.seen.came != "broke" or asking.by_phone:
            return False
        evidence, priors = self._evidence(asking.seen), self._priors(asking.seen)
        try:
            return infer(self._graph, evidence, priors).odds["bound"] >= NOT_RULED_OUT
        except ImpossibleEvidenceError:
            return True

    def _bits(self, asking: Asking, begun: list[Topic]) -> dict[str, float]:
        """What the answer to each topic is worth, in bits."""
        if FIRST[0] not in begun and asking.before.came is None:
            return {}
        evidence = self._evidence(asking.seen)
        key = frozenset(evidence.items())
        if key not in self._worth:
            may_ask = {topic.name: sorted(topic.settles) for topic in TOPICS}
            try:
                found = next_questions(self._graph, evidence, may_ask, self._priors(asking.seen))
            except ImpossibleEvidenceError:  # signs that contradict each other: any order will do
                found = ()
            self._worth[key] = {each.name: each.bits for each in found}
        return self._worth[key]

    def _evidence(self, seen: Inspection) -> dict[SignCode, bool]:
        evidence = {} if self._vehicle is None else dict(self._vehicle.says(seen))
        evidence.update(signs_of(seen, self._rig).items())
        return evidence

    def _priors(self, seen: Inspection) -> Mapping[CauseCode, float]:
        return {} if self._vehicle is None else self._vehicle.priors(seen)

    def _asking(self) -> Asking:
        return Asking(self._start, self.said(), self._so_far(), self._rig)

    def _data(self) -> dict[str, Any]:
        """Data of the inspection as far as it goes: what was taken up, and what was said since."""
        return _merged(self._start.typed(), assemble(placed(self.said()), Inspection))

    def _so_far(self) -> Inspection:
        return inspection_from_data(self._data())

    def made(self) -> Inspection | None:
        """The inspection, if it is kept as it stands."""
        seen = self._so_far()
        demand_joint(seen, self._rig)
        odd = [said_in(self._unit, said(each)) for each in doubts(seen, self._rig)]
        for words in odd:
            self._tell(f"Check: {words}.")
        if odd and not self.keeps("Enter keeps it as it is, back changes an answer: "):
            self._back()
            return None
        return seen

    def fits(self, keys: Keys, typed: str) -> bool:
        """Whether an answer is sound."""
        after = assemble(placed(self.said() | dict(keys)), Inspection)
        problems = sound_so_far(_merged(self._start.typed(), after))
        for problem in problems:
            self._tell(said_in(unit_of(typed) or self._unit, problem_words(problem)))
        return not problems

    def accepted(self, keys: Keys) -> None:
        """Tell what is odd, each once as long as it stays odd."""
        del keys
        found = {(each.code, each.key): each for each in self._odd()}
        for key, each in found.items():
            if key not in self._doubted:
                self._tell(f"Check: {said_in(self._unit, said(each))}.")
        self._doubted = set(found)

    def _odd(self) -> Iterator[Any]:
        """What is odd already, while more is to come."""
        waits = {"seen-nothing", "seen-no-joint", "seen-which-cross"}
        yield from (each for each in doubts(self._so_far(), self._rig) if each.code not in waits)

    def _put(self, question: Question) -> None:
        """Ask, after a word where it is time for one."""
        topic = topic_of(question.name)
        if topic is None or topic not in self._begun():
            self._say_a_word()
            self._ask_whether_it_pays(topic)
        super()._put(question)

    def _say_a_word(self) -> None:
        put, count = len(self._answers), self._count()
        if self._vehicle is None or count < _ENOUGH or put < self._worded + FIRST_WORD:
            return
        self._worded = put
        told = self._vehicle.word(self._so_far())
        if told:
            self._tell(f"A first word after {count} answers:\n{told}")
            stops = "no: what there is gets written down. yes, or Enter: the questions go on."
            if not self.agrees("Go on, for a surer answer? [yes] ", stops):
                raise _EnoughError

    def _ask_whether_it_pays(self, topic: Topic | None) -> None:
        """Where nothing that is left would settle much, it is as well to stop."""
        if topic is None or topic not in TOPICS or self._goes_on:
            return
        worth = self._bits(self._asking(), self._begun())
        if topic.name in _PROOF and self._may_bind(self._asking()):
            return
        if worth and worth.get(topic.name, 0.0) < LITTLE:
            self._tell("Nothing that is left to ask would settle much.")
            help_ = "yes, or Enter: it is written down. no: the rest is asked all the same."
            if self.agrees("Write it down? [yes] ", help_):
                raise _EnoughError
            self._goes_on = True

    def _count(self) -> int:
        """Answers that say more than that nobody looked."""
        return sum(1 for each in self._answers if each.keys and each.name != BY_PHONE)

    def _take(self, question: Question, text: str) -> None:
        """Take an answer; one that nobody knows or looked is that of Enter alone."""
        low = text.lower().strip().rstrip(".").replace("\u2019", "'")
        usual = question.default
        if usual and low in (UNSEEN | NOTHING if _is_reading(question) else UNSEEN):
            self._tell(f"Taken as: {usual}.")
            self._accept(question, {}, "")
        else:
            super()._take(question, text)

    def _read(self, question: Question, text: str) -> tuple[Keys, str] | None:
        """The keys of an answer; of one understood in part the rest is asked for."""
        while True:
            try:
                question.read(text)
            except PartlyError as fault:
                self._tell(str(fault))
                odd = " ".join(fault.left)
                more = self.typed(f'In place of "{odd}" (Enter leaves it out): ')
                if more.lower() in {"back", "b", "<"}:
                    return None
                joint = "; " if ":" in fault.read else ", "
                text = joint.join(filter(None, (fault.read, more)))
            except (AnswerError, OpenError):
                return super()._read(question, text)
            else:
                return super()._read(question, text)

    def again(self, name: str) -> Question | None:
        """The question of a kept answer, whichever would come now."""
        asking = self._asking()
        topic = topic_of(name)
        topics = TOPICS if topic is None else (topic,)
        for each in topics:
            for question in each.questions(asking):
                if question.name == name:
                    return question
        return None

    def taken_up(self) -> None:
        """What was odd about answers from the last time was told then."""
        self._doubted = {(each.code, each.key) for each in self._odd()}
        self._worded = len(self._answers) // FIRST_WORD * FIRST_WORD


def _is_reading(question: Question) -> bool:
    """Whether a length or a speed is asked for, of which none says nothing."""
    return question.name in {"history.distance", "symptoms.speed"} or (
        question.default == "not measured"
    )


def _open(topic: Topic, asking: Asking, answered: set[str]) -> Question | None:
    """The first question of a topic that was not answered."""
    return next((each for each in topic.questions(asking) if each.name not in answered), None)


def _merged(before: Mapping[str, Any], after: Mapping[str, Any]) -> dict[str, Any]:
    """Data with what was said later; tables are merged key by key, remarks are put together."""
    found = dict(before)
    for key, value in after.items():
        old = found.get(key)
        if isinstance(value, Mapping) and isinstance(old, Mapping):
            found[key] = _merged(old, value)
        elif key == "note" and old and len(f"{old}; {value}") <= LONGEST_NOTE:
            found[key] = f"{old}; {value}"
        elif key != "note" or not old:
            found[key] = value
    return found
