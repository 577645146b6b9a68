"""A first word on why it failed, after a few answers."""

from typing import Any

import pytest

from sim.causes import ImpossibleEvidenceError
from sim.rig import load_demo
from tests.viewer.seen.talks import WORE, Known, held, topic_of_prompt
from tests.viewer.test_interview import Person
from viewer.seen import talk
from viewer.seen.talk import LITTLE, look
from viewer.seen.topics import TOPICS
from viewer.seen.vehicle import Vehicle


@pytest.mark.slow
@pytest.mark.parametrize(
    "seen",
    [
        {"Did it break": "broke", "What is seen on the cross": "broken at the root"},
        {"Did it break": "wore out", "What is seen on the four caps": "end b: dry"},
        {"Did it break": "still runs", "What was heard": "clunk"},
    ],
)
def test_a_first_word_comes_within_a_minute(seen: dict[str, str]) -> None:
    """Six questions at most, and 250 words: a minute of reading (from memory)."""
    person = Person(seen | {"Which joint": "rear", "Go on": "no", "[": ""})
    rig = load_demo("quarry-hauler")
    assert look(person.ask, person.tell, rig, vehicle=Vehicle(rig, "my.toml")) is not None
    word = next(at for at, told in enumerate(person.told) if told.startswith("A first word"))
    asked = [prompt for prompt in person.asked if not prompt.startswith("Go on")]
    assert len(asked) <= 6
    assert sum(len(text.split()) for text in [*person.told[:word], *asked]) <= 250


def test_a_first_word_comes_after_five_answers() -> None:
    person = Person(WORE | dict.fromkeys(("What is seen",), ["nothing"] * 40) | {"Go on": "no"})
    found = held(person, vehicle=Known())
    said = [told for told in person.told if told.startswith("A first word")]
    assert said == ["A first word after 5 answers:\n  It wore."]
    assert person.asked[-1].startswith("Go on, for a surer answer?")
    assert found["came"] == "wore"


@pytest.mark.slow
def test_where_nothing_settles_much_it_says_so() -> None:
    person = Person(WORE)
    held(person)
    # Not before: enough was asked of a joint that nobody knows anything of.
    asked = {topic_of_prompt(prompt) for prompt in person.asked} & {each.name for each in TOPICS}
    assert len(asked) > len(TOPICS) // 2
    assert person.heard("Nothing that is left to ask would settle much.") == (LITTLE > 0.0)
    assert person.asked[-1].startswith("Write it down?")


def test_signs_that_contradict_each_other_leave_the_questions_in_some_order(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def impossible(*_: Any) -> Any:
        raise ImpossibleEvidenceError

    monkeypatch.setattr(talk, "next_questions", impossible)
    person = Person(WORE | {"What is seen on the tube": "nothing"})
    assert held(person)["tube"] == {"seen": []}
