"""Every reader bounds what it takes by the size of the file: a corpus read under a memory limit."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from tests.geometry.hostile_meshes import write_all

SECONDS = 8.0
"""Of the processor, for one file: several times what the slowest takes."""

BYTES = 250_000_000
"""By which one file may raise the memory: the corpus' largest is 60 MB unpacked."""


@pytest.fixture(scope="module")
def corpus(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, str], dict[str, Any]]:
    """What each file tries, and what came of it in a process of its own."""
    folder = tmp_path_factory.mktemp("hostile")
    tries = write_all(folder)
    done = subprocess.run(
        [sys.executable, "-m", "tests.geometry.read_under_limit", str(folder)],
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert done.returncode == 0, done.stderr[-2000:]
    return tries, json.loads(done.stdout)


@pytest.mark.slow
def test_no_file_takes_more_than_its_share(corpus: tuple[dict[str, str], dict[str, Any]]) -> None:
    """Huge counts, chains, rings, groups, bombs, damage: read or refused, soon and in little."""
    tries, found = corpus
    assert len(tries) > 450
    assert set(tries) <= set(found)
    slow = {tries[name]: told for name, told in found.items() if told["seconds"] > SECONDS}
    assert not slow
    large = {tries.get(name): told for name, told in found.items() if (told["grown"] or 0) > BYTES}
    assert not large


@pytest.mark.slow
def test_each_refusal_is_one_line_that_names_the_file(
    corpus: tuple[dict[str, str], dict[str, Any]],
) -> None:
    _, found = corpus
    refused = {name: told["came"] for name, told in found.items() if "read:" not in told["came"]}
    assert len(refused) > 200
    for name, says in refused.items():
        assert says.startswith(name), says
        assert len(says.splitlines()) == 1, says
        assert len(says) < 400, says


@pytest.mark.slow
def test_nothing_but_the_file_itself_is_opened(
    corpus: tuple[dict[str, str], dict[str, Any]],
) -> None:
    """No uri of a GLB, no library of materials, no address is followed, even where it is there."""
    tries, found = corpus
    assert not {tries.get(name): told["opened"] for name, told in found.items() if told["opened"]}
    elsewhere = [name for name, says in tries.items() if says.startswith("a buffer at")]
    assert len(elsewhere) == 4
    assert all("never opened" in found[name]["came"] for name in elsewhere)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("says", "came"),
    [
        ("groups", "read: 15000"),
        ("materials", "read: 15000"),
        ("a chain of nodes", "read: 1"),
        ("numbers that are nowhere", "triangles; at most"),
        ("900000000 points that are nowhere", "points; at most"),
        ("2900000 points that are nowhere", "not written out"),
        ("zeros that are not written out", "not written out"),
        ("numbers on top of each other", "no room for them"),
        ("a tree that doubles", "places in it, or a loop"),
        ("spaces", "bytes unpacked; at most"),
    ],
)
def test_what_came_of_the_worst(
    corpus: tuple[dict[str, str], dict[str, Any]], says: str, came: str
) -> None:
    tries, found = corpus
    names = [name for name, told in tries.items() if told == says]
    assert names
    assert all(came in found[name]["came"] for name in names), [found[n] for n in names]
