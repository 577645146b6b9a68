"""The room of a joint on the bench: a forecast while somebody types, then the fit."""

from collections.abc import Callable

import pytest

from tests.viewer.session.conftest import Scripted
from viewer.bench.told import BenchTold
from viewer.session.session import Session
from viewer.session.sheet.bench_room import BenchRoom

FORECAST = BenchTold("pinion", (20.0, 29.0), (24.0, 28.0), ("About",), is_forecast=True)
FITTED = BenchTold("pinion", (20.0, 29.0), (24.8, 27.3), ("This joint",))
NONE_KEPT = BenchTold("pinion", None, None, ())


@pytest.fixture
def room(open_rig: Callable[[str], Session], worker: Scripted) -> BenchRoom:
    room = BenchRoom(open_rig("long-legged-trail-wagon"), "pinion")
    room.follow()
    assert room.told is not room.soon
    assert worker.others.keys() >= {"bench", "forecast"}
    return room


def say(worker: Scripted, room: BenchRoom, task: str, answer: BenchTold) -> None:
    worker.others[task].say(answer=answer)  # type: ignore[index]
    room.poll()


def typed(room: BenchRoom, value: str) -> None:
    room.pick.add({"ears": "any", "touches_at": value})
    room.follow()


def test_a_forecast_stands_until_the_fit_is_there(room: BenchRoom, worker: Scripted) -> None:
    assert room.answer is None
    say(worker, room, "forecast", FORECAST)
    assert room.answer is FORECAST
    say(worker, room, "bench", FITTED)
    assert room.answer is FITTED
    typed(room, "26 deg")
    assert room.answer is FITTED, "the old answer stands until there is a forecast"
    assert room.told.is_computing
    say(worker, room, "forecast", FORECAST)
    assert room.answer is FORECAST


def test_a_forecast_that_is_late_or_empty_changes_nothing(
    room: BenchRoom, worker: Scripted
) -> None:
    say(worker, room, "forecast", NONE_KEPT)
    assert room.answer is None
    say(worker, room, "bench", FITTED)
    typed(room, "26 deg")
    say(worker, room, "bench", FITTED)
    say(worker, room, "forecast", FORECAST)
    assert room.answer is FITTED


def test_a_joint_of_which_nothing_is_known_shows_nothing_of_another(
    room: BenchRoom, worker: Scripted
) -> None:
    say(worker, room, "forecast", FORECAST)
    say(worker, room, "bench", FITTED)
    room.take("output")
    room.follow()
    assert room.answer is None
