"""Tools that nobody knows, and tools that do not read what they are said to have read."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sim.rig.bench import BenchReading
from sim.rig.numbers import key_of, numbers_in
from sim.rig.tools import Tool, tools_of
from sim.table.problems import Problem, as_typed, one_of
from sim.units import Length

_READS: Final = {"lengths": "length", "angles": "angle", "parts": "length"}


def tools_can_be(sections: Mapping[str, Any]) -> Iterator[Problem]:
    """Every tool that is named must be known, and read what it is named for."""
    said = sections.get("measured_with")
    tools = tools_of(said)
    for key, what in _READS.items():
        name = getattr(said, key, None)
        if name is not None:
            yield from _known(f"measured_with.{key}", name, name, what, tools)
    for section, held in sections.items():
        for path, value in numbers_in(held, (section,)):
            off = value.off
            if off is not None and off.tool and off.size is None:
                what = "length" if isinstance(value, Length) else "angle"
                yield from _known(key_of(path), str(value), off.tool, what, tools)
    for key, reading in _bench_readings(sections):
        if reading.tool is not None:
            what = "angle" if reading.catches_at is None else "length"
            yield from _known(f"{key}.tool", reading.tool, reading.tool, what, tools)

    for section in ("seen_on_truck", "visits"):
        for place, each in enumerate(sections.get(section, ()), start=1):
            if each.tool is not None and each.tool not in tools:
                key = f"{section}[{place}].tool"
                yield Problem(key, as_typed(each.tool), one_of(each.tool, list(tools)))


def _bench_readings(sections: Mapping[str, Any]) -> Iterator[tuple[str, BenchReading]]:
    """Every bench reading with its key path."""
    shaft, carrier = sections.get("shaft"), sections.get("carrier")
    ends = {
        "shaft.output_end": getattr(shaft, "output_end", None),
        "carrier.middle": getattr(carrier, "middle", None),
        "shaft.pinion_end": getattr(shaft, "pinion_end", None),
    }
    for table, end in ends.items():
        for place, reading in enumerate(() if end is None else end.bench, start=1):
            yield f"{table}.bench[{place}]", reading


def _known(
    key: str, typed: str, name: str, what: str, tools: Mapping[str, Tool]
) -> Iterator[Problem]:
    reads = [each.name for each in tools.values() if getattr(each, what) is not None]
    if name not in reads:
        yield Problem(key, as_typed(typed), one_of(name, reads))
