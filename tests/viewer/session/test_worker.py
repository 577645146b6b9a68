"""The process that computes: it answers, it can be stopped, and it is not missed when it dies."""

import time
from collections.abc import Callable

import pytest

from tests.viewer.session.at_once import AtOnce
from tests.viewer.session.conftest import RIGS, checked
from viewer.session.text.order import Order
from viewer.session.work.worker import InProcess, Told, Worker

TEXT = (RIGS / "long-legged-trail-wagon.toml").read_text("utf-8")
MANY = 60.0


def wait(worker: Worker, until: Callable[[Told], bool]) -> list[Told]:
    """Everything said until something is."""
    heard: list[Told] = []
    end = time.monotonic() + MANY
    while time.monotonic() < end:
        heard += worker.poll()
        if any(until(told) for told in heard):
            return heard
        time.sleep(0.01)
    raise AssertionError(f"nothing came; heard {heard}")


def answered(told: Told) -> bool:
    return told.answer is not None or told.fault is not None


@pytest.mark.slow
def test_it_answers_as_a_check_does_and_tells_how_far_it_is() -> None:
    worker = InProcess()
    worker.submit(7, Order(TEXT, "wagon.toml", RIGS))
    heard = wait(worker, answered)
    worker.close()
    plain = checked("long-legged-trail-wagon")
    found = heard[-1].answer
    assert found is not None
    assert found.findings == plain.findings
    assert found.tightest == plain.tightest
    assert {told.job for told in heard} == {7}
    shares = [told.share for told in heard]
    assert shares == sorted(shares)
    assert len(shares) > 4
    hardware = found.joints["pinion"].hardware
    assert hardware.gap_at(0.1, 0.2).distance == pytest.approx(
        plain.joints["pinion"].hardware.gap_at(0.1, 0.2).distance, abs=1e-12
    )


@pytest.mark.slow
def test_a_new_job_ends_the_old_one_and_a_killed_process_is_replaced() -> None:
    worker = InProcess()
    worker.submit(1, Order(TEXT, "wagon.toml", RIGS))
    worker.submit(2, Order("nonsense", "wagon.toml", RIGS))
    heard = wait(worker, answered)
    assert {told.job for told in heard} == {2}
    assert "expected a" in str(heard[-1].fault)
    worker._process.kill()
    worker._process.join(5.0)
    lost = wait(worker, answered)
    assert lost[-1].bug
    worker.submit(3, Order("still nonsense", "wagon.toml", RIGS))
    assert wait(worker, answered)[-1].job == 3
    worker.close()


def test_at_once_says_the_same() -> None:
    worker = AtOnce()
    worker.submit(1, Order("nonsense", "wagon.toml", RIGS))
    assert worker.poll()[-1].fault is not None
    assert worker.poll() == []
