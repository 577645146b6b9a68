"""Answers about what is seen on a failed joint, as they are typed."""

import pytest

from sim.seen import inspection_from_data
from sim.seen.words import CAPS, SeatWord
from tests.viewer.seen.talks import BROKE, HEAD, RIG, WORE, caps, held
from tests.viewer.test_interview import Person
from viewer.interview.answers import AnswerError
from viewer.interview.asking_back import OpenError
from viewer.seen.answers import count, joint_named, road, words_in
from viewer.seen.places import caps_named, yokes_named
from viewer.seen.talk import SeenTalk
from viewer.seen.topics import FIRST, LAST, TOPICS


def test_words_are_placed_one_by_one() -> None:
    found = caps(
        {
            "What is seen on the four caps": "dry, rust dust",
            "Which of them: dry": "3",
            "Which of them: rust dust": "both end",
        }
    )
    assert {cap: table["seen"] for cap, table in found.items() if "seen" in table} == {
        "shaft_a": [],
        "shaft_b": [],
        "end_a": ["dry", "rust dust"],
        "end_b": ["rust dust"],
    }


def test_words_may_come_with_their_places_at_once() -> None:
    said = "end a: dry, rust dust; shaft b: not looked at; shaft a: 4"
    found = caps({"What is seen on the four caps": said})
    assert {cap: table.get("seen") for cap, table in found.items()} == {
        "shaft_a": ["muddy"],
        "end_a": ["dry", "rust dust"],
        "end_b": [],
    }


def test_nothing_on_all_four_is_no_silence() -> None:
    found = caps({"What is seen on the four caps": "nothing"})
    assert found == {cap: {"seen": []} for cap in CAPS}


def test_a_cap_that_is_not_at_hand_is_not_looked_at() -> None:
    found = caps(
        {
            "What is seen on the four caps": "end a: lost",
            "In place of": "others: dry",
            "What is seen on the four trunnions": "flakes",
            "Which of them: flakes": ["end a", "all"],
        }
    )
    there = {"seen": ["dry"], "trunnion": ["flakes"]}
    assert found == dict.fromkeys(("shaft_a", "shaft_b", "end_b"), there)


def test_enter_alone_says_that_nobody_looked() -> None:
    assert held(Person(WORE)) == HEAD | {"came": "wore", "joint": "pinion"}


def test_tips_go_on_a_yoke_and_then_marks_are_asked_for() -> None:
    person = Person(
        BROKE
        | {
            "What is seen on the ear tips": "half moon, burr",
            "On which yoke: half-moon": "shaft",
            "On which yoke: burr": "both",
            "Which yoke is the mark on": ["shaft", "end"],
            "Which surface": ["", "1", "thro"],
            "Where on the yoke is the mark": ["", "12", "9:30"],
            "How deep is the mark": "0.03 in",
            "Is there another one straight": ["yes", ""],
            "Is there another mark?": ["yes", "no"],
        }
    )
    found = held(person)
    assert found["yokes"] == {
        "shaft": {"tips": ["half-moon", "burr"]},
        "end": {"tips": ["burr"]},
    }
    assert found["marks"] == [
        {
            "yoke": "shaft",
            "surface": "ear tip",
            "clock": "12",
            "depth": "0.03 in",
            "pair": True,
        },
        {"yoke": "end", "surface": "throat", "clock": "9:30"},
    ]


def test_no_mark_is_an_answer_too() -> None:
    seen = {"What is seen on the ear tips": "dent", "On which yoke": "end"}
    found = held(Person(BROKE | seen | {"Which yoke is the mark on": "nothing"}))
    assert found["marks"] == []


def test_caliper_readings_are_asked_for_where_there_are_some() -> None:
    person = Person(
        WORE
        | {
            "What is seen in the four seats": "shaft a: gouged",
            "Have you caliper readings": "yes",
            "outside diameter of cap a on the shaft": "1.0620, 1.0615 in",
            "bore for cap a on the shaft": ["1.0640", "in"],
            "How deep is the gouge": "10 thou",
            "end float has cap b on the other": "0.15 mm",
        }
    )
    found = held(person)["caps"]
    assert found["shaft_a"]["cap_diameter"] == ["1.0620 in", "1.0615 in"]
    assert found["shaft_a"]["bore"] == ["1.0640 in"]
    assert found["shaft_a"]["gouge"] == "10 thou"
    assert found["end_b"]["end_float"] == "0.15 mm"


def test_a_distance_without_its_unit_is_asked_back() -> None:
    person = Person(WORE | {"How far did it run": "3000", "3000 of what: mi or km?": "mi"})
    assert held(person)["history"] == {"distance": "3000 mi"}


def test_an_answer_that_will_not_do_is_asked_again() -> None:
    person = Person(
        WORE
        | {
            "What is seen on the four caps": ["clip", "shiny", "wrong clip"],
            "Which of them: wrong clip": ["a", "shaft a"],
            "How often did this joint fail": ["often", "twice"],
            "How far did it run": ["-3 mi", "9e9 mi", "3,000 mi", "3000 mi"],
        }
    )
    found = held(person)
    assert found["caps"]["shaft_a"]["seen"] == ["wrong clip"]
    assert found["history"] == {"failed_before": 2, "distance": "3000 mi"}
    assert person.heard('came "clip", which could be wrong clip or clip out; say which')
    assert person.heard('came "shiny", expected some of dry')
    assert person.heard('came "a", expected which yoke')
    assert person.heard('came "often", expected a number from 0 to 100')


LEGAL = ("gouged", "burr", "mushroomed edge", "egg-shaped", "worn bright", "rusty")


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("gouged", ["gouged"]),
        ("GOUGED, Rusty.", ["gouged", "rusty"]),
        ("rusty and gouged", ["gouged", "rusty"]),
        ("1 & 6", ["gouged", "rusty"]),
        ("egg", ["egg-shaped"]),
        ("edge; bright", ["mushroomed edge", "worn bright"]),
        ("nothing", []),
        ("ok", []),
    ],
)
def test_words_are_known_by_name_number_beginning_or_part(
    typed: str, words: list[SeatWord]
) -> None:
    assert list(words_in(typed, LEGAL)) == words


def test_a_word_with_and_in_it_is_one_word() -> None:
    legal = ("lines front and rear", "flakes")
    assert words_in("lines front and rear", legal) == ("lines front and rear",)
    assert words_in("flakes and lines front and rear", legal) == legal


@pytest.mark.parametrize("typed", ["", ",", "7", "0", "gauged out"])
def test_no_word_of_the_list(typed: str) -> None:
    with pytest.raises(AnswerError):
        words_in(typed, LEGAL)


@pytest.mark.parametrize(
    ("typed", "named"),
    [
        ("all", CAPS),
        ("All four", CAPS),
        ("shaft a", ("shaft_a",)),
        ("a on the shaft's yoke", ("shaft_a",)),
        ("shaft", ("shaft_a", "shaft_b")),
        ("both on the other yoke", ("end_a", "end_b")),
        ("end b, shaft a", ("shaft_a", "end_b")),
        ("shaft a and b", ("shaft_a", "shaft_b")),
        ("1 3", ("shaft_a", "end_a")),
        ("1, 3", ("shaft_a", "end_a")),
        ("pinion a", ("end_a",)),
        ("b", None),
        ("left", None),
        ("5", None),
        ("", None),
    ],
)
def test_caps_are_known_by_yoke_and_side_or_by_number(
    typed: str, named: tuple[str, ...] | None
) -> None:
    if named is None:
        with pytest.raises(AnswerError, match="came"):
            caps_named(typed, CAPS)
    else:
        assert caps_named(typed, CAPS) == named


def test_yokes_and_counts() -> None:
    assert yokes_named("both") == ("shaft", "end")
    assert yokes_named("the pinion") == ("end",)
    assert count("n", 2)("twice") == {"n": 2}
    for typed in ("left", "shaft, left"):
        with pytest.raises(AnswerError):
            yokes_named(typed)
    for typed in ("3", "-1", "1.5", "often"):
        with pytest.raises(AnswerError):
            count("n", 2)(typed)


def test_a_word_beside_a_cap_never_puts_down_another_cap() -> None:
    """What is not understood is asked for; what was understood stays."""
    person = Person(
        WORE | {"What is seen on the four caps": "dry", "Which of them: dry": "end b: dry, rust"}
    )
    found = held(person)["caps"]
    assert [cap for cap in CAPS if found[cap]["seen"]] == ["end_b"]
    assert person.heard('Understood: end b. Not understood: "rust"')


@pytest.mark.parametrize("typed", ["end a shaft", "end 1", "a rust", "end b or a"])
def test_places_that_could_be_several_are_refused(typed: str) -> None:
    with pytest.raises(AnswerError):
        caps_named(typed, CAPS)


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("end b dry", {"end_b": ["dry"]}),
        ("end b: dry, shiny", {"end_b": ["dry"]}),
        ("end b dry; shaft a won't purge", {"end_b": ["dry"], "shaft_a": ["will not purge"]}),
    ],
)
def test_a_place_and_its_words_in_plain_words(typed: str, seen: dict[str, list[str]]) -> None:
    found = caps({"What is seen on the four caps": typed})
    assert {cap: table["seen"] for cap, table in found.items() if table["seen"]} == seen


def test_a_word_that_is_denied_is_not_put_down() -> None:
    with pytest.raises(AnswerError):
        words_in("not dry", ("dry", "muddy"))


@pytest.mark.parametrize(
    ("typed", "came"), [("wore out", "wore"), ("broken", "broke"), ("still runs", "runs")]
)
def test_how_it_ended_in_plain_words(typed: str, came: str) -> None:
    answers = {"Did it break": typed, "Which joint": "axle", "Enter keeps it": ""}
    assert held(Person(answers))["came"] == came


@pytest.mark.parametrize(
    ("typed", "axle", "joint"),
    [
        ("rear", "rear", "pinion"),
        ("rear", "front", "output"),
        ("front", "front", "pinion"),
        ("axle", "", "pinion"),
        ("pinion end", "", "pinion"),
        ("transfer case", "", "output"),
        ("rear axle", "front", None),
        ("front", "", None),
    ],
)
def test_a_joint_by_what_it_is_at_and_never_by_guess(
    typed: str, axle: str, joint: str | None
) -> None:
    read = joint_named("joint", ("output", "pinion"), axle)
    if joint is None:
        with pytest.raises((AnswerError, OpenError)):
            read(typed)
    else:
        assert read(typed) == {"joint": joint}


@pytest.mark.parametrize("typed", ["8,000 miles", "about 8000 mi", "8k miles", "8000 mi"])
def test_miles_as_they_are_said(typed: str) -> None:
    assert road("d")(typed) == {"d": "8000 mi"}


def test_what_nobody_knows_is_no_answer_and_the_hint_is_in_miles() -> None:
    person = Person(WORE | {"How far did it run": ["far", "dunno"]})
    assert "history" not in held(person)
    assert person.heard('came "far", expected a distance with its unit, such as "3000 mi"')


def test_help_has_something_to_say_at_every_question() -> None:
    person = Person(WORE)
    asking = SeenTalk(person.ask, person.tell, RIG, inspection_from_data(HEAD), None, None)
    for topic in (*FIRST, *TOPICS, *LAST):
        for question in topic.questions(asking._asking()):
            assert question.beware, question.name
            break
