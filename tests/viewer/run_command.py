"""Runs the command line within the test's own process."""

import io
import sys
from dataclasses import dataclass

import pytest

from viewer.command_line import main


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str


def run(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    *words: str,
    typed: str = "",
) -> Ran:
    monkeypatch.setattr(sys, "argv", ["bindpoint", *words])
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    with pytest.raises(SystemExit) as ended:
        main()
    captured = capsys.readouterr()
    return Ran(int(ended.value.code or 0), captured.out, captured.err)
