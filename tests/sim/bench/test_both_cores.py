"""The same work on every core: what comes out does not depend on who did it."""

import os
from functools import partial

import pytest

from sim.bench.both_cores import WORTH, AllCores, done_by_all


def square(number: int) -> int:
    return number * number


def gone(here: int, number: int) -> int:
    """End any other process than the one with this id."""
    if os.getpid() != here:
        os._exit(3)
    return number * number


THINGS = list(range(3 * WORTH))
SQUARES = [(n, n * n) for n in THINGS]


@pytest.mark.parametrize("cores", [1, 2, 3])
def test_all_is_done_once_by_however_many(cores: int) -> None:
    assert sorted(done_by_all(square, THINGS, cores)) == SQUARES


def test_what_a_helper_had_in_hand_when_it_ended_is_done_here() -> None:
    assert sorted(done_by_all(partial(gone, os.getpid()), THINGS, 2)) == SQUARES


def double(number: int) -> int:
    return 2 * number


def test_helpers_stay_for_the_next_work_and_what_was_left_early_is_in_none() -> None:
    with AllCores(3) as together:
        assert sorted(together.done(square, THINGS)) == SQUARES
        assert sorted(together.done(double, THINGS)) == [(n, 2 * n) for n in THINGS]
        left = together.done(square, THINGS)
        next(left)
        assert sorted(together.done(double, THINGS)) == [(n, 2 * n) for n in THINGS]


def test_nothing_to_do_is_done_at_once() -> None:
    assert not list(done_by_all(square, [], 2))


def test_who_stops_listening_leaves_no_process_behind() -> None:
    from multiprocessing import active_children

    before = set(active_children())
    some = done_by_all(square, THINGS, 2)
    next(some)
    some.close()
    assert set(active_children()) <= before
