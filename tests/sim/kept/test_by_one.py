"""An answer that two programs want at once is made by one of them."""

import time
from multiprocessing import get_context
from pathlib import Path

import pytest

from sim.kept import by_one as by_one_of
from sim.kept.by_one import by_one

pytestmark = pytest.mark.slow

SPAWN = get_context("spawn")


def make(place: Path, log: Path, takes: float) -> None:
    """Make the entry where it is not there, slowly, and say that it was made."""
    with by_one(place):
        if not place.exists():
            with log.open("a", encoding="utf-8") as said:
                said.write("made\n")
            time.sleep(takes)
            place.write_text("answer", encoding="utf-8")


def hold(place: Path, log: Path) -> None:
    """Hold others off until this is killed."""
    with by_one(place):
        log.write_text("held", encoding="utf-8")
        time.sleep(600.0)


def test_two_programs_make_it_once(tmp_path: Path) -> None:
    place, log = tmp_path / "fits" / "entry.json", tmp_path / "log"
    programs = [SPAWN.Process(target=make, args=(place, log, 1.0)) for _ in range(2)]
    for each in programs:
        each.start()
    for each in programs:
        each.join(60.0)
        assert each.exitcode == 0
    assert log.read_text("utf-8") == "made\n"


def test_whoever_is_killed_lets_go(tmp_path: Path) -> None:
    place, log = tmp_path / "fits" / "entry.json", tmp_path / "log"
    holder = SPAWN.Process(target=hold, args=(place, log))
    holder.start()
    while not log.exists():
        time.sleep(0.05)
    holder.kill()
    holder.join(60.0)
    log.unlink()
    make(place, log, 0.0)
    assert place.read_text("utf-8") == "answer"


def test_after_the_longest_wait_it_is_made_twice(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, log = tmp_path / "fits" / "entry.json", tmp_path / "log"
    monkeypatch.setattr(by_one_of, "LONGEST", 0.2)
    holder = SPAWN.Process(target=hold, args=(place, log))
    holder.start()
    while not log.exists():
        time.sleep(0.05)
    log.unlink()
    make(place, log, 0.0)
    assert log.read_text("utf-8") == "made\n"
    holder.kill()
    holder.join(60.0)


def test_where_no_folder_can_be_nobody_is_held_off(tmp_path: Path) -> None:
    (tmp_path / "fits").write_text("a file", encoding="utf-8")
    with by_one(tmp_path / "fits" / "entry.json"):
        pass
