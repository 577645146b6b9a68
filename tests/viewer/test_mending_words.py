"""What to do in words: a sentence for every code, short ones, and commands that are there."""

import re
from typing import get_args

import pytest
from typer.testing import CliRunner

from sim.causes.codes import CauseCode
from sim.why.mending import AskCode, Asking, DoCode, ProofCode, SwapCode, command, greasing
from viewer.words.mending import (
    ASKS,
    DOES,
    PROOFS,
    SWAPS,
    ask_lines,
    do_lines,
    greasing_lines,
    proof_lines,
    swap_lines,
)


@pytest.mark.parametrize(
    ("kind", "words"), [(SwapCode, SWAPS), (DoCode, DOES), (ProofCode, PROOFS), (AskCode, ASKS)]
)
def test_every_code_has_its_words_and_none_is_idle(kind: object, words: dict[str, str]) -> None:
    assert set(words) == set(get_args(kind))


@pytest.mark.parametrize("cause", get_args(CauseCode))
def test_sentences_are_short_and_whole(cause: CauseCode) -> None:
    lines = [*swap_lines(cause, strapped=True), *do_lines(cause), *proof_lines(cause)]
    for line in lines:
        assert line.endswith(".")
        assert line[0].isupper()
        for sentence in re.split(r"(?<=[.])\s", line):
            assert len(sentence.split()) <= 22, sentence
    for says, typed in ask_lines(cause, Asking("my truck.toml", "pinion")):
        assert not says.endswith(".")
        assert '"my truck.toml"' in typed


@pytest.mark.parametrize("ask", get_args(AskCode))
def test_the_program_takes_every_command(ask: AskCode) -> None:
    from viewer.command_line import app

    name, *rest = command(ask, Asking("no-such-file.toml", "pinion"))
    assert name == "bindpoint"
    found = CliRunner().invoke(app, rest)
    # Read as far as the rig, which is not there: a usage error would come before that.
    assert found.exit_code != 0
    assert "no such file" in str(found.exception)


def test_a_greasing_plan() -> None:
    dry = greasing_lines(greasing("street", "never"))
    assert dry[0] == "Grease it every 5,000 miles or every 6 months, whichever comes first."
    assert not any("same day" in line for line in dry)
    wet = greasing_lines(greasing("rocks", "often"))
    assert wet[0] == "Grease it every 250 miles or every month, whichever comes first."
    assert wet[-1] == "After water or deep mud, grease it the same day."
