"""The interview keeps what was said: going back, leaving, and coming again; it asks back, too."""

import errno
import json
import os
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import pytest

from sim.kept.atomic import LEFTOVER
from sim.rig import RigError, load_rig, parse_rig
from tests.sim import rigs
from tests.viewer.run_command import run
from tests.viewer.test_interview import PHONE, Person, held
from viewer import start
from viewer.commands import terminal
from viewer.interview import interview, new_rig_file
from viewer.interview.conversation import ENDED, KEPT
from viewer.interview.draft import Draft
from viewer.interview.said_in import said_in, unit_of
from viewer.words.units import format_fine, format_length, format_missing

PHONE_CALL = "schema = 1\n" + rigs.PHONE_CALL


class Stopping(Person):
    """A person who leaves at some question, in some way."""

    def __init__(
        self, answers: dict[str, str | list[str]], at: str, way: Callable[[], str]
    ) -> None:
        super().__init__(answers)
        self._at, self._way = at, way

    def ask(self, prompt: str) -> str:
        if self._at in prompt:
            return self._way()
        return super().ask(prompt)


def stop() -> str:
    raise KeyboardInterrupt


def end() -> str:
    raise EOFError


# Going back


def test_back_shows_what_was_said_and_enter_keeps_it() -> None:
    person = Person(
        PHONE
        | {
            "How long is the shaft, joint": ["36 5/16 in", ""],
            "does the output point, looking": ["3 deg down", ""],
            "output point to a side": ["2 deg left", "back", ""],
            "Between which points": ["back", ""],
            "does the shaft point": ["back", "14 deg down"],
        }
    )
    rig = held(person)
    assert rig.output.points_left is not None
    assert rig.ride_height is not None
    assert rig.ride_height.length is not None
    assert (rig.output.points_left.typed, rig.ride_height.length.typed) == ("2 deg", "36 5/16 in")
    shown = [prompt.partition("[")[2] for prompt in person.asked if "[" in prompt]
    assert "2 deg left] " in shown
    assert "3 deg down] " in shown
    assert "36 5/16 in] " in shown
    assert person.heard("You said 3 deg down: Enter keeps it.")
    assert person.heard("You said 2 deg left: Enter keeps it, - takes straight.")


def test_going_back_far_loses_nothing_of_what_came_after() -> None:
    backs = ["back"] * 3
    person = Person(
        PHONE
        | {
            "hang down from ride": [*backs[:1], "8 in"],
            "go up from ride": ["4 in", "back", ""],
            "the snout": ["11 in", "back", ""],
            "pinion point to a side": ["1 deg left", "back", ""],
            "does the pinion point, looking": ["1 deg up", "2 deg up"],
        }
    )
    rig = held(person)
    assert rig.axle.points_up is not None
    assert rig.axle.points_left is not None
    assert rig.axle.points_up.typed == "2 deg"
    assert rig.axle.points_left.typed == "1 deg"
    assert rig.travel.bump.typed == "4 in"


def test_the_usual_value_can_be_taken_again() -> None:
    person = Person(
        PHONE
        | {
            "output point to a side": ["2 deg left", "-"],
            "Between which points": ["back", ""],
        }
    )
    assert held(person) == parse_rig(PHONE_CALL)


# Leaving and coming again


@pytest.mark.parametrize("way", [stop, end, lambda: "quit"], ids=["Ctrl+C", "end", "quit"])
def test_answers_are_offered_the_next_time(way: Callable[[], str], tmp_path: Path) -> None:
    path, folder = tmp_path / "mine.toml", tmp_path / "state"
    first = Stopping(PHONE | {"rig called": "My wagon"}, "does the shaft point", way)
    draft = Draft(path, folder)
    try:
        assert new_rig_file(path, first.ask, first.tell, draft=draft) is None
        assert first.told[-1] == f"{ENDED} {KEPT}"
    except KeyboardInterrupt:
        pass
    draft.close()
    assert not path.exists()

    again = Person({"does the shaft point": "14 deg down"} | {
        words: answer for words, answer in PHONE.items()
        if words in ("does the pinion point, looking", "the snout", "go up from ride",
                     "hang down from ride")
    })  # fmt: skip
    draft = Draft(path, folder)
    rig = new_rig_file(path, again.ask, again.tell, draft=draft)
    draft.close()
    assert again.asked[0] == "Go on from there? [yes] "
    assert "How does the shaft point" in again.asked[1]
    assert rig == load_rig(path)
    assert rig is not None
    assert rig.name == "My wagon"
    assert Draft(path, folder).found() is None
    assert list(folder.iterdir()) == []


def test_no_begins_anew(tmp_path: Path) -> None:
    first = Stopping(PHONE | {"rig called": "My wagon"}, "does the shaft point", end)
    draft = Draft(tmp_path / "mine.toml", tmp_path)
    assert interview(first.ask, first.tell, draft) is None
    again = Person(PHONE | {"Go on from there": "no"})
    assert interview(again.ask, again.tell, draft) == parse_rig(PHONE_CALL)


def test_what_was_said_after_a_step_back_is_kept_too(tmp_path: Path) -> None:
    draft = Draft(tmp_path / "mine.toml", tmp_path)
    first = Person(
        PHONE
        | {"does the shaft point": ["back"], "How long is the shaft, joint": ["36 in", "quit"]}
    )
    assert interview(first.ask, first.tell, draft) is None
    again = Person({key: a for key, a in PHONE.items() if "How long" not in key})
    rig = interview(again.ask, again.tell, draft)
    assert rig is not None
    assert rig.ride_height is not None
    assert rig.ride_height.length is not None
    assert rig.ride_height.length.typed == "36 in"


def test_whoever_goes_all_the_way_back_and_leaves_is_offered_everything(tmp_path: Path) -> None:
    draft = Draft(tmp_path / "mine.toml", tmp_path)
    answers: dict[str, str | list[str]] = {
        "rig called": ["My wagon", "quit"],
        "Who measured it": ["in May", "back"],
        "rear or the front axle": ["back"],
    }
    first = Person(answers)
    assert interview(first.ask, first.tell, draft) is None
    assert first.told[-1] == f"{ENDED} {KEPT}"
    again = Person(PHONE | {"rig called": "", "Who measured it": ""})
    rig = interview(again.ask, again.tell, draft)
    assert again.heard("There are 2 answers from ")
    assert rig is not None
    assert (rig.name, rig.note) == ("My wagon", "in May")


def test_a_draft_is_of_one_file_and_of_one_program(tmp_path: Path) -> None:
    one, other = Draft(tmp_path / "one.toml", tmp_path), Draft(tmp_path / "other.toml", tmp_path)
    assert one.take()
    one.keep([("name", "One")], {"note": "later"})
    assert other.found() is None
    found = one.found()
    assert found is not None
    assert found.answers == (("name", "One"),)
    assert found.before == {"note": "later"}
    assert abs((datetime.now(UTC) - found.written).total_seconds()) < 60.0
    person = Person(PHONE)
    assert interview(person.ask, person.tell, Draft(tmp_path / "one.toml", tmp_path)) is not None
    assert person.heard("Another Bindpoint is asking for this rig")
    assert one.found() == found
    one.close()


@pytest.mark.parametrize(
    "change",
    [
        {"format": 2},
        {"whose": "/somebody/else.toml"},
        {"answers": [["name"]]},
        {"answers": [["name", 3]]},
        {"answers": []},
        {"before": {"name": 3}},
        {"written": "yesterday"},
    ],
)
def test_a_draft_that_is_not_sound_is_none(change: dict[str, object], tmp_path: Path) -> None:
    draft = Draft(tmp_path / "mine.toml", tmp_path)
    draft.keep([("name", "One")], {})
    data = json.loads(draft.file.read_text("utf-8"))
    draft.file.write_text(json.dumps(data | change), encoding="utf-8")
    assert draft.found() is None


def test_answers_that_no_longer_fit_are_shown_where_they_are_asked(tmp_path: Path) -> None:
    draft = Draft(tmp_path / "mine.toml", tmp_path)
    answers = [("name", "One"), ("question of old", "x"), ("axle.position", "front")]
    draft.keep(answers, {})
    person = Person(PHONE)
    rig = interview(person.ask, person.tell, draft)
    assert rig is not None
    assert rig.name == "One"
    assert any("rear or the front axle? [front]" in prompt for prompt in person.asked)
    assert rig.axle.front


def test_a_full_disk_does_not_stop_the_questions(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    person = Person(PHONE)
    rig = interview(person.ask, person.tell, Draft(tmp_path / "mine.toml", tmp_path))
    assert rig == parse_rig(PHONE_CALL)
    cannot = [told for told in person.told if "cannot be kept" in told]
    assert cannot == ["Your answers cannot be kept meanwhile (No space left on device)."]


def test_a_file_that_came_meanwhile_stays_and_so_do_the_answers(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"

    def write() -> str:
        path.write_text("somebody's", encoding="utf-8")
        return "8 in"

    person = Stopping(PHONE, "hang down from ride", write)
    draft = Draft(path, tmp_path / "state")
    with pytest.raises(RigError, match="a file that exists already"):
        new_rig_file(path, person.ask, person.tell, draft=draft)
    assert path.read_text("utf-8") == "somebody's"
    assert draft.found() is not None
    assert not any(LEFTOVER.fullmatch(each.name) for each in tmp_path.iterdir())


# Asking back


@pytest.mark.parametrize(
    ("question", "typed", "back", "asked"),
    [
        ("does the output point, looking", "3 down", ["yes"], "3 deg down? [yes] "),
        ("does the output point, looking", "3 down", [""], "3 deg down? [yes] "),
        ("does the output point, looking", "3 deg", ["down"], "3 deg: down or up? "),
        ("does the output point, looking", "3", ["", "d"], "3 deg? [yes] "),
        ("does the output point, looking", "3", ["3 deg down"], "3 deg? [yes] "),
        ("How long is the shaft, joint", "36 5/16", ["in"], "36 5/16 of what: in, mm, cm or ft? "),
        ("does the shaft point", "14", ["deg", "do"], "14 of what: deg, in, mm, cm or ft? "),
        ("go up from ride", "4", [""], "4 of what: in, mm, cm or ft? [in] "),
        ("hang down from ride", "8", ["?", "in"], "8 of what: in, mm, cm or ft? [in] "),
    ],
)
def test_a_unit_or_a_direction_that_is_missing_is_asked_back(
    question: str, typed: str, back: list[str], asked: str
) -> None:
    answers = dict(PHONE)
    answers.pop(question)
    value = typed.split(" down", maxsplit=1)[0]
    person = Person({question: typed, f"{value} of what": back[:-1] or back} | answers)

    def ask(prompt: str) -> str:
        if prompt.startswith(value) and question not in prompt:
            person.asked.append(prompt)
            return back.pop(0)
        return Person.ask(person, prompt)

    rig = interview(ask, person.tell)
    assert rig == parse_rig(PHONE_CALL)
    assert asked in person.asked
    assert back == []


def test_a_height_question_takes_a_bare_number_after_asking_back() -> None:
    person = Person(
        PHONE
        | {
            "known of the suspension": "measured",
            "Reading 1": "14",
            "14 of what": "in",
            "14 in: bump or droop": "bump",
            "Reading 2": "ride",
            "Reading 3": "8 droop",
            "8 of what": "",
            "Reading 4": "done",
            "How long is the shaft there": ["36 in", "36 5/16 in", "37 1/2 in"],
            "does the pinion point there": ["3 deg up", "1 deg up", "1 down"],
            "1 deg down": "",
        }
    )
    asked: list[str] = []

    def ask(prompt: str) -> str:
        asked.append(prompt)
        if "Reading 2" in prompt:
            raise EOFError
        return person.ask(prompt)

    assert interview(ask, person.tell) is None
    assert "14 of what: in, mm, cm or ft? [in] " in asked
    assert "14 in: bump or droop? " in asked


def test_back_and_no_put_the_question_once_more() -> None:
    person = Person(
        PHONE
        | {
            "How long is the shaft, joint": ["36", "36", "36 5/16 in"],
            "36 of what": ["back", "no"],
        }
    )
    assert held(person) == parse_rig(PHONE_CALL)


# Doubts


def test_one_doubt_is_told_once_and_in_the_unit_that_was_typed() -> None:
    person = Person(
        PHONE
        | {
            "How long is the shaft, joint": ["2500 mm", "2510 mm"],
            "does the shaft point": ["14 deg down", "14 deg down"],
            "off to a side": ["back", ""],
            "the snout": ["300 mm", "280 mm"],
            "go up from ride": ["back", "100 mm"],
        }
    )
    held(person)
    doubts = [told for told in person.told if "one-piece shafts" in told]
    assert len(doubts) == 1
    assert "2500.0 mm;" in doubts[0]
    assert "at about 1650 to 1780 mm" in doubts[0]
    assert " in" not in doubts[0].replace(" instead", "").replace("joint center to joint", "")


def test_lengths_are_said_in_one_unit() -> None:
    for mm in (922.3375, 5.0, 31.1, 76.2, 12.7):
        for form in (format_length, format_fine, format_missing):
            sentence = f"joint center to joint center is only {form(mm)}; was it?"
            assert f"only {mm:.1f} mm; was it?" in said_in("mm", sentence)
            inches = said_in("in", sentence)
            assert "mm" not in inches
            assert inches.startswith(sentence.partition(" in (")[0])
            assert said_in("", sentence) == sentence
    units = {'36 5/16"': "in", "922 mm": "mm", "3 ft 2 in": "in", "3 deg": "", "Joe in May": ""}
    assert {text: unit_of(text) for text in units} == units


# On a terminal


@pytest.mark.parametrize("columns", [60, 80, 120])
def test_everything_is_folded_to_the_terminal(
    columns: int,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    answers = ["A wagon", "", "", "no", "", "double", "", "", "", "3 down", "", "", "", "36 5/16",
               "in", "14 deg", "down", "", "1 deg up", "", "11 in", "4 in", "8 in"]  # fmt: skip
    rest = ["", "?", "back", "", ""] + [""] * 40
    place = tmp_path / "mine.toml"
    ran = run(monkeypatch, capsys, "new", str(place), typed="\n".join([*answers, *rest]))
    assert ran.err == ""
    assert "How long is the shaft, joint" in ran.out
    prose = [line for line in ran.out.splitlines() if str(tmp_path) not in line]
    assert max(map(len, prose)) <= columns
    # No line is left half empty: the words fill it as far as they go.
    assert max(map(len, prose)) > min(columns, 100) - 8


def test_what_stands_above_a_question_is_not_told_again_when_it_is_repeated(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = "Wagon\n\n\nno idea\nnone\nperhaps\n?\nyes\n"
    ran = run(monkeypatch, capsys, "new", str(tmp_path / "mine.toml"), typed=typed)
    assert ran.out.count("Is it a plain shaft") == 5
    assert ran.out.count("no: it has a carrier bearing") == 1
    assert ran.out.count("Count the crosses") == 1


def test_leaving_by_ctrl_c_tells_in_one_line_how_to_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "mine.toml"
    lines = iter(["A wagon\n", "Joe\n"])

    def typed() -> str:
        try:
            return next(lines)
        except StopIteration:
            raise KeyboardInterrupt from None

    with monkeypatch.context() as patch:
        patch.setattr(terminal, "ask_line", lambda _: typed())
        assert start.answered(["new", str(place)]) == 130
    said = capsys.readouterr().err
    assert said == (
        f"bindpoint: stopped; your answers are kept: bindpoint new {place} offers them\n"
    )
    with monkeypatch.context() as patch:
        patch.setattr(terminal, "ask_line", lambda _: stop())
        assert start.answered(["new", str(tmp_path / "other.toml")]) == 130
    assert capsys.readouterr().err == "bindpoint: stopped\n"
    ran = run(monkeypatch, capsys, "new", str(place), typed="yes\n")
    assert "There are 2 answers from" in ran.out
    assert ran.code == 2
