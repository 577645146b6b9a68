"""A customer view of a rig that binds, with and without cures."""

from collections.abc import Iterator
from math import radians

import pytest
from pytestqt.qtbot import QtBot

from tests.viewer.session.conftest import Scripted as Worker
from tests.viewer.window.customer.shown import Opening, StubView, cured
from tests.viewer.window.scripted import Scripted
from viewer.session.cures.lines import CureList
from viewer.session.session import Session
from viewer.window.customer.view import CustomerView


@pytest.fixture
def session(open_rig: Opening) -> Session:
    session = open_rig("long-legged-trail-wagon")
    session.motion.go(travel=-50.0, wrap=radians(2.0), spin=1.0)
    return session


@pytest.fixture
def ask() -> Scripted:
    return Scripted()


@pytest.fixture
def view(qtbot: QtBot, session: Session, ask: Scripted) -> Iterator[CustomerView]:
    view = CustomerView(session, None, StubView, ask)
    # One that has a cure in it asks when it goes.
    qtbot.addWidget(view, before_close_func=lambda _: ask.answers.append("undo"))
    view.resize(1200, 800)
    view.show()
    yield view
    view.close()


@pytest.fixture
def offered(view: CustomerView, session: Session, worker: Worker) -> CustomerView:
    """A view whose cures are found."""
    session.look_for(session.cures)
    found = CureList(session.document.text, "The cheapest first:", (cured(session),), ())
    worker.others["cures"].say(answer=found, share=1.0)
    session.tick()
    return view
