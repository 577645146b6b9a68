"""Runs the command line within the test's own process."""

import io
import sys
from dataclasses import dataclass

import pytest

from viewer.start import answered


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
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    code = answered(words)
    captured = capsys.readouterr()
    return Ran(code, captured.out, captured.err)
