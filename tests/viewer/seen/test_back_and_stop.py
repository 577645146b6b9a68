"""Steps back, stops and kept answers in a talk about a failed joint."""

from pathlib import Path

from sim.seen import inspection_from_data
from tests.viewer.seen.talks import HEAD, RIG, WORE, held
from tests.viewer.test_interview import Person
from viewer.interview.draft import Draft
from viewer.seen.talk import ENDED, look


def test_a_step_back_shows_what_was_said() -> None:
    person = Person(
        {"Did it break": ["broke", "wore"], "Which joint": ["back", "pinion"], "[": "stop"}
    )
    assert held(person)["came"] == "wore"
    assert person.heard("You said broke: Enter keeps it")


def test_stop_writes_down_what_there_is() -> None:
    person = Person(WORE | {"What is seen on the four caps": "stop"})
    assert held(person) == HEAD | {"came": "wore", "joint": "pinion"}
    assert held(Person({"Did it break": "stop", "Enter keeps it": ""})) == HEAD


def test_quit_writes_nothing_and_keeps_the_answers(tmp_path: Path) -> None:
    draft = Draft(tmp_path / "x.toml", tmp_path / "drafts")
    first = Person(WORE | {"What is seen on the four caps": "dry", "Which of them": "quit"})
    assert look(first.ask, first.tell, RIG, draft=draft) is None
    assert first.heard(ENDED)
    draft.close()
    again = Draft(tmp_path / "x.toml", tmp_path / "drafts")
    second = Person({"Which of them: dry": "end a", "[not": "stop"})
    found = held(second, draft=again)
    again.close()
    assert found["came"] == "wore"
    assert found["caps"]["end_a"]["seen"] == ["dry"]
    assert not any("Did it break" in prompt for prompt in second.asked)


def test_words_that_are_not_placed_yet_are_kept_as_a_remark() -> None:
    person = Person(
        WORE
        | {
            "What is seen on the four caps": "dry, muddy",
            "Which of them: dry": "1",
            "Which of them: muddy": "stop",
        }
    )
    before = inspection_from_data(HEAD | {"caps": {"note": "in a bucket"}})
    note = "in a bucket; seen: dry, muddy; not said on which"
    assert held(person, before)["caps"] == {"note": note}


def test_help_tells_more_and_draws_the_caps() -> None:
    person = Person(WORE | {"What is seen on the four caps": ["?", "stop"]})
    held(person)
    assert person.heard("Look before anything is washed")
    assert person.heard("4 end b -----+----- 3 end a")


def test_a_doubt_is_told_and_can_be_put_right() -> None:
    person = Person(
        {
            "What is seen on the cross": "broken at the root",
            "Anything else": ["", "came in a bag"],
            "Enter keeps it": ["back", ""],
        }
        | WORE
    )
    found = held(person)
    assert person.heard("Check: it is said not to have broken, yet the cross is")
    assert (found["came"], found["note"]) == ("wore", "came in a bag")
