"""What is seen on a failed joint, asked one by one: the talk, its answers, and its file."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from sim.causes import CauseCode, ImpossibleEvidenceError, SignCode, load_graph, next_questions
from sim.rig import load_demo
from sim.seen import Inspection, inspection_from_data, load_inspection, signs_of
from sim.seen.words import CAPS, SeatWord
from sim.table.structure import keys_of
from tests.viewer.run_command import Ran, run
from tests.viewer.test_interview import Person
from viewer.commands.look import beside
from viewer.endings import STOPPED
from viewer.inspections import beside_rig
from viewer.interview.answers import AnswerError
from viewer.interview.asking_back import OpenError
from viewer.interview.draft import Draft
from viewer.seen import talk
from viewer.seen.answers import AT_HAND, count, joint_named, road, words_in
from viewer.seen.places import caps_named, yokes_named
from viewer.seen.talk import ENDED, LITTLE, SeenTalk, look
from viewer.seen.topics import FIRST, LAST, TOPICS, topic_of
from viewer.seen.vehicle import Vehicle

RIG = load_demo("quarry-hauler")
HEAD: dict[str, Any] = {"schema": 1, "kind": "inspection"}
BROKE = {"Did it break": "broke", "Which joint": "pinion"}
WORE = {"Did it break": "wore", "Which joint": "pinion"}


def held(person: Person, before: Inspection | None = None, **more: Any) -> dict[str, Any]:
    """What comes of a talk."""
    found = look(person.ask, person.tell, RIG, before, **more)
    assert found is not None
    return found.typed()


@pytest.fixture(autouse=True)
def in_order(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Questions in a fixed order, which is quicker; what settles most has slow tests of its own."""
    if request.node.get_closest_marker("slow") is None:
        monkeypatch.setattr(talk, "next_questions", lambda *_: ())


class Known:
    """A vehicle that says nothing, but has a word for what was seen."""

    def says(self, seen: Inspection) -> Mapping[SignCode, bool]:
        del seen
        return {}

    def priors(self, seen: Inspection) -> Mapping[CauseCode, float]:
        del seen
        return {}

    def word(self, seen: Inspection) -> str:
        return f"  It {seen.came}."


# The order


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


def topic_of_prompt(prompt: str) -> str:
    """Name of the topic whose question begins a prompt."""
    for topic in TOPICS:
        asks = getattr(topic.script, "asks", None)
        if asks is not None and prompt.startswith(asks):
            return topic.name
        for path in topic.fills:
            info = keys_of(Inspection)[path][1]
            told = getattr(info.json_schema_extra, "asks", "")
            if told and "{" not in told and prompt.startswith(told):
                return topic.name
    return ""


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


# Answers


def caps(answers: dict[str, str | list[str]]) -> dict[str, Any]:
    """What is said of the caps."""
    return held(Person(WORE | answers | {"Write it down": "no"}))["caps"]


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


# Back, stop, quit


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


# A first word


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


# An inspection that is taken up


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


# The command


class Shop:
    """A folder in which `look` is typed."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: Any, folder: Path) -> None:
        monkeypatch.chdir(folder)
        self._with = (monkeypatch, capsys)
        self.folder = folder

    def look(self, *words: str, typed: str = "") -> Ran:
        return run(*self._with, "look", *words, typed=typed)


@pytest.fixture
def shop(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> Shop:
    return Shop(monkeypatch, capsys, tmp_path)


DEMO = "demo:quarry-hauler"


@pytest.mark.slow
def test_a_demo_is_written_where_one_stands(shop: Shop) -> None:
    ran = shop.look(DEMO, typed="wore\npinion\nstop\n")
    file = shop.folder / "quarry-hauler-seen.toml"
    assert (ran.code, ran.err) == (0, "")
    assert f"Next: bindpoint why {DEMO} --seen {file.name}" in " ".join(ran.out.split())
    found = load_inspection(file)
    assert (found.came, found.joint, found.rig) == ("wore", "pinion", DEMO)


@pytest.mark.slow
def test_a_rig_gets_its_inspection_beside_it_and_it_is_taken_up(shop: Shop) -> None:
    text = Path(__file__).parents[2].joinpath("models/rigs/quarry-hauler.toml").read_text("utf-8")
    folder = shop.folder / "jobs"
    folder.mkdir()
    rig = folder / "mine.toml"
    rig.write_text(text, encoding="utf-8")
    assert shop.look(str(rig), typed="wore\nstop\n\n").code == 0
    file = folder / "mine-seen.toml"
    assert load_inspection(file).rig == "mine.toml"
    ran = shop.look(str(rig), typed="pinion\nstop\n")
    assert "is there already: what it says is not asked again" in " ".join(ran.out.split())
    assert "Did it break" not in ran.out
    assert (load_inspection(file).came, load_inspection(file).joint) == ("wore", "pinion")


def test_an_inspection_that_the_window_saved_is_taken_up(shop: Shop) -> None:
    text = 'schema = 1\nkind = "inspection"\njoint = "{}"\n'
    pinion, output = (
        shop.folder / f"quarry-hauler-{joint}-seen.toml" for joint in ("pinion", "output")
    )
    pinion.write_text(text.format("pinion"), encoding="utf-8")
    assert beside(DEMO) == Path(pinion.name)
    output.write_text(text.format("output"), encoding="utf-8")
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert "expected --seen with one of them" in ran.err
    (shop.folder / "quarry-hauler-seen.toml").write_text(text.format("pinion"), encoding="utf-8")
    assert beside(DEMO) == Path("quarry-hauler-seen.toml")
    assert beside("jobs/my.truck.toml") == Path("jobs/my.truck-seen.toml")
    own = beside_rig(shop.folder / "My Truck.toml", "output")
    own.write_text(text.format("output"), encoding="utf-8")
    assert beside(str(shop.folder / "My Truck.toml")) == own


@pytest.mark.parametrize("content", ["notes of mine\n", 'schema = 1\nname = "rig"\n', "a = 1\n"])
def test_somebodys_file_is_not_written_over(shop: Shop, content: str) -> None:
    file = shop.folder / "mine.toml"
    file.write_text(content, encoding="utf-8")
    ran = shop.look(DEMO, "--seen", str(file))
    assert ran.code == 2
    assert "which is there already" in ran.err
    assert file.read_text("utf-8") == content


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('joint = "middle"', 'joint: came "middle", a joint that this rig does not have'),
        (
            'joint = "pinion"\nhead_cross = "outer"',
            'head_cross: came "outer", yet the pinion joint',
        ),
        ('came = "bent"', 'came: came "bent", expected one of broke, wore, runs'),
        ("[caps.shaft_a]\nbore = [1.06]", "a number without a unit"),
    ],
)
def test_a_bad_inspection_is_one_line_and_stays(shop: Shop, text: str, says: str) -> None:
    file = shop.folder / "quarry-hauler-seen.toml"
    file.write_text(f'schema = 1\nkind = "inspection"\n{text}\n', encoding="utf-8")
    before = file.read_bytes()
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "look: no rig named, expected a rig file or demo:NAME"),
        (("nowhere.toml",), "nowhere.toml: no such file, expected a rig file"),
        ((DEMO, "--seen", "no/such/folder.toml"), "the folder is not there"),
        ((DEMO, "--seen", "."), "a folder"),
        ((DEMO, "--seen", DEMO), "which is shipped and stays, expected a file"),
    ],
)
def test_what_cannot_be_done_is_one_line(shop: Shop, words: tuple[str, ...], says: str) -> None:
    ran = shop.look(*words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1


@pytest.mark.slow
def test_ended_early_it_writes_nothing_and_offers_the_answers_again(shop: Shop) -> None:
    ran = shop.look(DEMO, typed="wore\npinion\n")
    assert ran.code == 2
    assert list(shop.folder.iterdir()) == []
    ran = shop.look(DEMO, typed="yes\nstop\n")
    assert "There are 2 answers from" in ran.out
    assert load_inspection(shop.folder / "quarry-hauler-seen.toml").joint == "pinion"


def test_stopped_by_the_keyboard_it_says_that_answers_are_kept(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def ask(prompt: str) -> str:
        asked.append(prompt)
        if len(asked) > 2:
            raise KeyboardInterrupt
        return ["wore", "pinion"][len(asked) - 1]

    monkeypatch.setattr("viewer.commands.terminal.ask_line", ask)
    ran = shop.look(DEMO)
    assert ran.code == STOPPED
    assert "your answers are kept and offered the next time" in ran.err
    assert not (shop.folder / "quarry-hauler-seen.toml").exists()


def test_what_somebody_wrote_meanwhile_stays(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    file = shop.folder / "quarry-hauler-seen.toml"
    theirs = 'schema = 1\nkind = "inspection"\ncame = "runs"\n'

    def asked(*_: Any, **__: Any) -> Inspection:
        file.write_text(theirs, encoding="utf-8")
        return inspection_from_data(HEAD | {"came": "wore"})

    monkeypatch.setattr("viewer.commands.look.look", asked)
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert "was changed meanwhile" in ran.err
    assert file.read_text("utf-8") == theirs


def test_the_json_schema_is_written_for_an_editor(shop: Shop) -> None:
    assert shop.look("--json-schema", "seen.json").code == 0
    assert json.loads(Path("seen.json").read_text("utf-8"))["title"] == "Bindpoint inspection"
    assert shop.look("--json-schema", "seen.json").code == 0
    Path("mine.json").write_text("{}", encoding="utf-8")
    assert shop.look("--json-schema", "mine.json").code == 2


@pytest.mark.needs_gl
@pytest.mark.slow
def test_every_word_is_drawn_to_print(shop: Shop) -> None:
    assert shop.look("--words", "words.png").code == 0
    assert Path("words.png").read_bytes().startswith(b"\x89PNG")
    Path("mine.png").write_text("mine", encoding="utf-8")
    assert shop.look("--words", "mine.png").code == 2
