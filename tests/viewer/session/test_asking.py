"""Asking a worker that is made for one question, and what becomes of it."""

from pathlib import Path

from tests.viewer.session.conftest import Scripted
from viewer.session.text.order import Order
from viewer.session.work.asking import Asking


def asking() -> tuple[Asking[str], list[Scripted]]:
    made: list[Scripted] = []

    def make() -> Scripted:
        made.append(Scripted())
        return made[-1]

    return Asking(make), made


def test_a_worker_is_made_when_it_is_needed_and_goes_when_it_is_done() -> None:
    ask, made = asking()
    heard: list[str] = []
    ask.changed.connect(lambda: heard.append(ask.state))
    ask.poll()
    assert made == []
    ask.ask(Order("text", "name", Path()))
    assert made[0].jobs == [(1, "text")]
    made[0].say(what="sawing", share=0.5)
    ask.poll()
    assert (ask.what, ask.share, ask.answer) == ("sawing", 0.5, None)
    made[0].say(answer="paper", share=1.0)
    ask.poll()
    assert (ask.answer, ask.state) == ("paper", "fresh")
    assert made[0].cancelled == 1
    ask.ask(Order("text 2", "name", Path()))
    assert len(made) == 2
    assert ask.answer == "paper"
    assert heard == ["computing", "fresh", "computing"]


def test_stopping_ends_the_worker_and_what_it_says_later_is_not_heard() -> None:
    ask, made = asking()
    ask.ask(Order("text", "name", Path()))
    made[0].say(answer="too late")
    ask.cancel()
    ask.poll()
    assert (ask.answer, ask.state) == (None, "stopped")
    assert made[0].cancelled == 1
    ask.cancel()
    ask.forget()
    assert (ask.answer, ask.state) == (None, "none")


def test_a_fault_is_told_and_the_next_question_has_a_new_worker() -> None:
    ask, made = asking()
    ask.ask(Order("text", "name", Path()))
    made[0].say(fault="no such yoke", bug=True)
    ask.poll()
    assert (ask.state, ask.fault, ask.fault_is_bug) == ("failed", "no such yoke", True)
    ask.ask(Order("text", "name", Path()))
    assert (len(made), ask.fault) == (2, None)
    ask.close()
    assert made[1].cancelled == 1
