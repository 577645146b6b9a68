"""How sure an answer is, with the keys of docs/json.md."""

from __future__ import annotations

from math import degrees
from typing import Any, Final

from sim.accuracy.source import Source
from sim.bars import Band, PoseBand
from sim.bench.shape import Free
from sim.findings import Finding, deg, mm
from viewer.bars.asked import Sure
from viewer.encoder import keyed, plain, publish
from viewer.words.again import again_words

publish({Band: "low high unit", PoseBand: "travel roll wrap"})

_BARS: Final = (
    "likely chance chance_off how seed draws impossible first_band=first left_out unshaped"
)
_FINDING: Final = "likely chance band worst_band=worst first_band=first level_band=level at_band=at"


def band_data(low: float, high: float) -> dict[str, Any]:
    """A band of angles, rad."""
    told: dict[str, Any] = plain(Band(degrees(low), degrees(high), "deg"))
    return told


def sure_data(sure: Sure) -> dict[str, Any] | None:
    """How sure the verdict is; None where nobody looked or nobody can tell."""
    if sure.bars is None:
        return None
    return {
        **keyed(sure.bars, _BARS),
        "off": [*map(_off, sure.doubts.moving), *map(_off_of_part, sure.doubts.free)],
        "says": sure.says,
    }


def again_data(sure: Sure) -> list[dict[str, Any]]:
    """What to read again, what narrows the doubt most first."""
    again = () if sure.bars is None else sure.bars.again
    return [keyed(each, "key share") | {"says": again_words(each)} for each in again]


def finding_data(sure: Sure, finding: Finding) -> dict[str, Any]:
    """How sure one finding is; null where nothing of it may be off, or nobody looked."""
    found = None if sure.bars is None else sure.bars.of(finding)
    return _nothing() if found is None else keyed(found, _FINDING)


def _nothing() -> dict[str, Any]:
    return {each.partition("=")[0]: None for each in _FINDING.split()}


def _off_of_part(free: Free) -> dict[str, Any]:
    """The same of one dimension of a yoke."""
    why = "typed" if free.measured else "generic part"
    return {"key": free.key, "off": plain(mm(free.off)), "why": why, "tool": ""}


def _off(source: Source) -> dict[str, Any]:
    off = deg(source.off) if source.unit == "rad" else mm(source.off)
    return {"key": source.key, "off": plain(off), **keyed(source, "why tool")}
