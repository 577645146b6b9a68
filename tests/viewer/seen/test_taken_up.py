"""An inspection that is there is gone on with."""

from sim.seen import inspection_from_data
from tests.viewer.seen.talks import HEAD, held
from tests.viewer.test_interview import Person


def test_what_is_there_is_not_asked_again() -> None:
    before = inspection_from_data(
        HEAD
        | {
            "joint": "output",
            "note": "photos 1 to 9",
            "caps": {"shaft_a": {"seen": ["dry"], "note": "kept apart"}},
            "tube": {"seen": []},
        }
    )
    person = Person({"Did it break": "broke", "What is seen on the four caps": "nothing"})
    found = held(person, before)
    assert found["joint"] == "output"
    assert found["note"] == "photos 1 to 9"
    assert found["caps"]["shaft_a"] == {"seen": ["dry"], "note": "kept apart"}
    assert found["caps"]["shaft_b"]["seen"] == []
    assert not any("Which joint" in asked or "on the tube and" in asked for asked in person.asked)
