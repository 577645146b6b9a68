"""The answer that follows an inspection: one at a time, old from the next tick on."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest

from geometry.errors import BindpointError
from sim.causes.codes import SeenCode
from sim.progress import silent
from sim.rig.demos import demo_text, load_demo
from sim.seen import demos as inspections
from sim.seen import parse_inspection, signs_of
from sim.seen.signs import SIGNS
from tests.viewer.session.conftest import Scripted
from viewer.session.session import Session
from viewer.session.why.room import STORY, TABLES, WhyRoom
from viewer.session.why.rows import Row, rows_of
from viewer.why.follow import CauseTold, NextTold, WhyTold, answer_of


@pytest.fixture
def room(open_rig: Callable[..., Session]) -> WhyRoom:
    return WhyRoom(open_rig())


def row(key: str) -> Row:
    return next(each for each in rows_of(key.rpartition(".")[0]) if each.key == key)


def answer_to(room: WhyRoom) -> WhyTold:
    cause = CauseTold("dry-cap", "one dry cap", 0.8, "very likely (80 %)", ("For it: it is dry.",))
    asks = (NextTold("seal-torn", "Is a seal torn?", "a lamp"),)
    of = room.file.text, room.session.document.text
    return WhyTold(
        of, ("It wore out.",), (cause,), asks, (), "Never proof.", meets="It binds at droop."
    )


def test_nothing_is_asked_before_something_is_told(room: WhyRoom, worker: Scripted) -> None:
    room.follow()
    assert worker.others["why"].jobs == []
    room.tell_of_all("joint", "output")  # which joint it is tells nothing of why
    assert worker.others["why"].jobs == []


def test_every_tick_is_answered_one_at_a_time(room: WhyRoom, worker: Scripted) -> None:
    asked = worker.others["why"]
    room.tick(row("caps.end_a.seen"), "dry")
    assert len(asked.jobs) == 1
    first = answer_to(room)
    room.tick(row("caps.end_a.seen"), "rust dust")
    # Not dropped: the worker knows the rig once it is through, and is quick then.
    assert len(asked.jobs) == 1
    asked.say(answer=first)
    room.poll()
    assert room.answers.answer is first
    assert len(asked.jobs) == 2
    asked.say(answer=answer_to(room))
    room.poll()
    assert not room.is_old
    assert len(asked.jobs) == 2


def test_an_answer_is_old_from_the_next_tick_on_and_after_a_change_of_the_rig(
    room: WhyRoom, worker: Scripted
) -> None:
    asked = worker.others["why"]
    room.tick(row("caps.end_a.seen"), "dry")
    asked.say(answer=answer_to(room))
    room.poll()
    assert not room.is_old
    room.tick(row("cross.seen"), "cracked")
    assert room.is_old
    room.file.undo()
    assert not room.is_old
    asked.say(answer=answer_to(room))
    room.poll()
    room.session.document.set({"travel.droop": "3 in"})
    assert room.is_old
    assert len(asked.jobs) == 3


def test_marks_and_pressure_are_those_of_the_rig_as_it_stands(
    room: WhyRoom, worker: Scripted
) -> None:
    """A tick leaves what was computed of the parts where it is; another droop takes it away."""
    asked = worker.others["why"]
    room.tick(row("caps.end_a.seen"), "dry")
    there, far = SimpleNamespace(cross=0), SimpleNamespace(cross=1)
    asked.say(answer=replace(answer_to(room), marks=(there, far), trunnions=(there,)))
    room.poll()
    assert room.met == (there,)
    assert room.pressed == (there,)
    room.tick(row("cross.seen"), "cracked")
    assert room.met == room.pressed == (there,)
    room.session.document.set({"travel.droop": "3 in"})
    assert room.met == room.pressed == ()


def test_what_is_not_right_is_not_asked(room: WhyRoom, worker: Scripted) -> None:
    room.tell(row("caps.end_a.gouge"), "ten")
    assert worker.others["why"].jobs == []
    room.tell(row("caps.end_a.gouge"), "0.010 in")
    assert len(worker.others["why"].jobs) == 1


def test_a_question_that_failed_is_not_put_again_and_again(room: WhyRoom, worker: Scripted) -> None:
    asked = worker.others["why"]
    room.tick(row("caps.end_a.seen"), "dry")
    asked.say(fault="the suspension does not reach")
    room.poll()
    assert room.answers.state == "failed"
    assert len(asked.jobs) == 1
    room.tick(row("caps.end_a.seen"), "spun")
    assert len(asked.jobs) == 2


@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_leads_to_where_it_is_told(sign: SeenCode) -> None:
    rows = {each.key for table in (*TABLES, *STORY) for each in rows_of(table)}
    paths = SIGNS[sign].reads
    assert paths
    assert set(paths) <= rows | {"marks", "came"}


def test_the_part_that_nobody_looked_at_is_meant(room: WhyRoom) -> None:
    room.go_to("seal-torn")
    assert room.chosen == ("caps.shaft_a", "seen")
    room.find_nothing(row("caps.shaft_a.seen"))
    room.go_to("seal-torn")
    assert room.chosen == ("caps.shaft_b", "seen")
    room.go_to("half-moons")
    assert room.chosen == ("yokes.shaft", "tips")
    room.go_to("strap-loose")  # only the other yoke has straps
    assert room.chosen == ("caps.end_a", "strap")
    room.go_to("squeak")
    assert room.chosen == ("symptoms", "noise")
    room.go_to("marks-paired")
    assert room.chosen[0] == "marks"


@pytest.mark.slow
@pytest.mark.parametrize("name", inspections.demo_names())
def test_the_window_tells_of_every_demo_what_the_command_tells(name: str) -> None:
    from sim.why.why import why

    rig, text = load_demo(name), inspections.demo_text(name)
    told = answer_of(rig, demo_text(name), name, text, silent)
    found = why(rig, parse_inspection(text))
    assert [(each.code, each.chance) for each in told.causes] == [
        (each.code, each.chance) for each in found.not_ruled_out
    ]
    assert told.of == (text, demo_text(name))
    # Marks are shown only where this axle makes them.
    touches = found.computed_of("touches-in-reach")
    assert touches is not None
    assert bool(told.marks) == touches.says
    assert [each.cap for each in told.trunnions] == list(found.asked.cocked.caps)
    asks = [each.asks for each in told.next]
    assert len(asks) == len(set(asks))
    looked = signs_of(parse_inspection(text), rig)
    assert not {each.sign for each in told.next} & set(looked)


@pytest.mark.slow
def test_the_window_knows_the_joints_that_the_shop_settled(own_state: Path) -> None:
    from sim.causes import confirmed_from_data, none_confirmed, save_confirmed
    from sim.why.why import why

    name = "heather-moor-scout"
    settled = confirmed_from_data(
        none_confirmed().typed() | {"joints": [{"causes": ["water"]}] * 5}
    )
    rig, text = load_demo(name), inspections.demo_text(name)
    before = answer_of(rig, demo_text(name), name, text, silent)
    save_confirmed(settled, own_state / "confirmed.toml")
    told = answer_of(rig, demo_text(name), name, text, silent)
    found = why(rig, parse_inspection(text), settled)
    assert [(each.code, each.chance) for each in told.causes] == [
        (each.code, each.chance) for each in found.not_ruled_out
    ]
    first, was = told.causes[0], before.causes[0]
    assert first.code == was.code == "water"
    assert first.chance > 1.5 * was.chance


def test_a_joint_that_the_rig_does_not_have_is_told() -> None:
    text = 'schema = 1\nkind = "inspection"\njoint = "middle"\n'
    name = "ridge-crawler"
    with pytest.raises(BindpointError, match="middle"):
        answer_of(load_demo(name), demo_text(name), name, text, silent)
