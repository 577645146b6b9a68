"""The cheapest cure of a rig, kept on disk, so that a check can name it without looking for it."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sim.cures.cures import Cures
from sim.findings import Verdict
from sim.kept.answers import WHOLE, cache_folder, code_key, entry_name, read_entry, write_entry
from sim.remark import Remark, remark_of
from sim.rig import Rig
from sim.rig.content import content_of

MOST_ENTRIES: Final = 500
"""About 200 kB."""


@dataclass(frozen=True)
class FirstCure:
    """What stands first in the list of cures.

    Attributes
    ----------
    says : what to do, by remedy; nothing where nothing that was tried cures it.
    verdict : what it comes to.
    chance : that it still touches, where it works on some trucks only; None else.
    """

    says: tuple[Remark, ...]
    verdict: Verdict
    chance: float | None = None


def keep_first(found: Cures) -> None:
    """Keep the first of the cures of a rig, by the weights shipped, unless some were ruled out.

    A cache that cannot be written costs the line, never the answer.
    """
    if found.without:
        return
    first = next((cure for cure in found.cures if cure.works), None)
    says = [] if first is None else [_noted(each) for each in first.says]
    verdict = found.before.verdict if first is None else first.after.verdict
    chance = None if first is None or first.holds else first.chance
    data = {"says": says, "verdict": verdict, "chance": chance}
    with suppress(OSError):
        write_entry(_place(found.rig), data, MOST_ENTRIES)


def first_cure(rig: Rig) -> FirstCure | None:
    """The first cure of a rig; None where nobody looked for cures since it was changed."""
    with suppress(OSError, ValueError, KeyError, TypeError):
        data = read_entry(_place(rig))
        return FirstCure(tuple(map(remark_of, data["says"])), data["verdict"], data["chance"])
    return None


def _noted(remark: Remark) -> list[Any]:
    """A remark as plain data, which `remark_of` reads."""
    values = {
        name: _noted(value) if isinstance(value, Remark) else value for name, value in remark.values
    }
    return [remark.code, values]


def _place(rig: Rig) -> Path:
    return cache_folder() / "cures" / entry_name(WHOLE, cures=content_of(rig))


code_key(WHOLE)  # of the sources as they were read to run
