"""The same work on many things, on every core there is.

Helpers are processes of their own, started the one way that all three systems know, and each is
told each work once. They end when their pipe does, whatever becomes of this program. Where none can
be started, or one ends of itself, this process does the rest alone. What comes out does not depend
on who did it.
"""

from __future__ import annotations

import os
import signal
from collections import deque
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager, suppress
from multiprocessing import current_process, get_context
from multiprocessing.connection import Connection
from threading import current_thread, main_thread
from typing import Any, TypeVar

T = TypeVar("T")
R = TypeVar("R")

MOST = 8
"""Processes at most, this one among them."""

AHEAD = 2
"""Things a helper has in hand, so that it never waits."""

WORTH = 8
"""Things below which no helper is started: it needs a second or two to read its libraries."""


def done_by_all(
    work: Callable[[T], R], things: Sequence[T], cores: int | None = None
) -> Generator[tuple[int, R]]:
    """Do the work on all things; give number and result of each as it is done, in any order.

    work : what can be sent to another process, such as a function of a module, or an instance of
        a class with `__call__`; gives what can be sent back. It raises nothing.
    cores : processes, this one among them; as many as there are where left out.
    """
    with AllCores(cores) as together:
        yield from together.done(work, things)


class AllCores:
    """Helpers that stay from one work to the next.

    cores : processes, this one among them; as many as there are where left out.
    """

    def __init__(self, cores: int | None = None) -> None:
        self._many = min(cores or os.cpu_count() or 1, MOST)
        self._helpers: list[_Helper] = []

    def __enter__(self) -> AllCores:
        return self

    def __exit__(self, *_: object) -> None:
        for helper in self._helpers:
            helper.end()

    def done(self, work: Callable[[T], R], things: Sequence[T]) -> Generator[tuple[int, R]]:
        """Do the work on all things; give number and result of each as it is done, in any order.

        A helper that still has work in hand, of a time that was left early, rests. work : see
        `done_by_all`.
        """
        left = deque(enumerate(things))
        if len(things) >= WORTH and not self._helpers:
            self._helpers = _started(self._many - 1)
        helpers = [each for each in self._helpers if each.told(work)]
        while left or any(helper.has for helper in helpers):
            for helper in list(helpers):
                try:
                    yield from helper.said()
                    while left and len(helper.has) < AHEAD:
                        helper.give(*left[0])
                        left.popleft()
                except (EOFError, OSError):
                    left.extendleft(reversed(helper.has))
                    helpers.remove(helper)
            if left:
                number, thing = left.popleft()
                yield number, work(thing)
            else:
                for helper in [each for each in helpers if each.has][:1]:
                    helper.wait()


class _Helper:
    """Another process and what it has in hand."""

    def __init__(self) -> None:
        context = get_context("spawn")
        self.has: list[tuple[int, Any]] = []
        self._pipe, far = context.Pipe()
        self._process = context.Process(target=_help, args=(far,), daemon=True)
        with unasked(), _may_start():
            self._process.start()
        far.close()

    def told(self, work: Callable[[Any], Any]) -> bool:
        """Say what the work is; False where it is gone, or at work for somebody who left."""
        if self.has:
            return False
        try:
            self._pipe.send((None, work))
        except OSError:
            return False
        return True

    def give(self, number: int, thing: Any) -> None:
        """Hand something over."""
        self._pipe.send((number, thing))
        self.has.append((number, thing))

    def said(self) -> Iterator[tuple[int, Any]]:
        """What has been done since the last time; never waits. Raises EOFError where it is gone."""
        while self._pipe.poll():
            number, result = self._pipe.recv()
            self.has = [each for each in self.has if each[0] != number]
            yield number, result

    def wait(self) -> None:
        """Until it says something or is gone."""
        with suppress(OSError):
            self._pipe.poll(None)

    def end(self) -> None:
        """End the process."""
        self._process.kill()
        self._process.join()
        self._pipe.close()


def _started(count: int) -> list[_Helper]:
    helpers: list[_Helper] = []
    with suppress(OSError, RuntimeError, ImportError):
        helpers.extend(_Helper() for _ in range(count))
    return helpers


def _help(pipe: Connection) -> None:
    work: Any = None
    with suppress(EOFError, OSError, KeyboardInterrupt):
        while True:
            number, thing = pipe.recv()
            if number is None:
                work = thing
            else:
                pipe.send((number, work(thing)))


@contextmanager
def unasked() -> Iterator[None]:
    """Start a process that does not heed Ctrl+C, as it inherits that: this one does, and ends it.

    Else it would tell at length where it was.
    """
    if current_thread() is not main_thread():  # only that one may say what a signal does
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _may_start() -> Iterator[None]:
    """Let a process that ends with another one, as the window's does, start helpers of its own.

    That is refused as a rule since a killed process leaves its helpers behind; ours end with their
    pipe.
    """
    me = current_process()
    before = me.daemon
    if before:
        me.daemon = False
    try:
        yield
    finally:
        if before:
            me.daemon = True
