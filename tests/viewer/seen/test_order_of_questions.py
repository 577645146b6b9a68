"""In which order it is asked what is seen on a failed joint."""

from typing import Any

import pytest

from sim.causes import load_graph, next_questions
from sim.seen import Inspection, inspection_from_data, signs_of
from sim.table.structure import keys_of
from tests.viewer.seen.talks import BROKE, HEAD, RIG, WORE, held, topic_of_prompt
from tests.viewer.test_interview import Person
from viewer.seen.answers import AT_HAND
from viewer.seen.topics import FIRST, LAST, TOPICS, topic_of


def test_first_it_is_asked_whether_it_broke_or_wore() -> None:
    person = Person(WORE | {"[": "stop"})
    held(person)
    assert person.asked[0].startswith("Did it break, did it wear out, or does it still run?")
    assert person.asked[1].startswith("Which joint: output, pinion?")


@pytest.mark.slow
def test_the_next_question_is_always_the_one_that_settles_most() -> None:
    """Against the odds of the causes themselves, asked anew after each answer."""
    data: dict[str, Any] = HEAD | {"came": "wore", "joint": "pinion"}
    answers = {
        "What is seen on the four caps": "end a: dry, rust dust",
        "What is seen on the four trunnions": "nothing",
        "How far did it run": "30000 mi",
        "What is seen on the ear tips": "nothing",
        "What is seen in the throats": "nothing",
    }
    person = Person(WORE | answers | {"Write it down": "no"})
    found = inspection_from_data(held(person))
    graph = load_graph()
    asked = [topic_of_prompt(prompt) for prompt in person.asked]
    order = [name for name in dict.fromkeys(asked) if name in {each.name for each in TOPICS}]
    so_far = inspection_from_data(data)
    left = {each.name: sorted(each.settles) for each in TOPICS if each.name in order}
    for name in order[:6]:
        worth = next_questions(graph, signs_of(so_far, RIG), left)
        best = max(each.bits for each in worth)
        here = next(each.bits for each in worth if each.name == name)
        assert here == pytest.approx(best, abs=1e-12), (name, worth[0])
        del left[name]
        so_far = _with(so_far, found, name)


def _with(so_far: Inspection, found: Inspection, name: str) -> Inspection:
    """The inspection with what one topic added to it."""
    topic = next(each for each in TOPICS if each.name == name)
    data, whole = so_far.typed(), found.typed()
    for path in topic.fills:
        *tables, key = path.split(".")
        here, there = data, whole
        for table in tables:
            there = there.get(table, {})
            here = here.setdefault(table, {})
        if key in there:
            here[key] = there[key]
    return inspection_from_data(data)


def test_every_key_is_asked_for_somewhere() -> None:
    fills = {path for topic in (*FIRST, *TOPICS, *LAST) for path in topic.fills}
    not_asked = {"schema", "kind", "rig"}
    for path, (_, info) in keys_of(Inspection).items():
        is_table = any(other.startswith(f"{path}.") for other in keys_of(Inspection))
        if is_table or path in not_asked or path.endswith(".note"):
            continue
        mark = path.startswith("marks.")
        assert mark or path in fills, path
        assert getattr(info.json_schema_extra, "asks", ""), path


def test_every_question_has_one_topic() -> None:
    for topic in (*FIRST, *TOPICS, *LAST):
        assert topic_of(topic.name) is topic
        for path in topic.fills:
            assert topic_of(path) in {
                each for each in (*TOPICS, *FIRST, *LAST) if path in each.fills
            }
    assert topic_of(AT_HAND) is None
    assert topic_of("marks[2].clock") is topic_of("marks")


def test_on_the_phone_only_what_a_customer_can_tell_is_asked() -> None:
    person = Person(BROKE | {"Did it break": "broke, on the phone", "How far did it run": "900 mi"})
    found = held(person)
    asked = " ".join(person.asked)
    assert found["history"] == {"distance": "900 mi"}
    for told in ("What broke?", "What was heard", "How often was it greased"):
        assert told in asked
    bench = ("on the tube", "at the tube", "face of the break", "turn of the shaft")
    for seen in (
        *bench,
        "four caps",
        "trunnions",
        "ear tips",
        "bar go through",
        "caliper",
        "the cross",
    ):
        assert seen not in asked
