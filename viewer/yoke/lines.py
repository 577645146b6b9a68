"""The lines of a rig file for a yoke of one's own, ready to be pasted."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Literal

import tomlkit

from sim.parts.catalogue import yoke_class
from sim.rig.choice import OWN_YOKE
from viewer.words.yoke import caliper_remarks, scan_remarks

UNITS = ("mm", "cm", "m", "in", "ft")
"""Units that a rig file knows for a mesh."""

_PLACES: Mapping[Literal["output", "shaft", "pinion"], tuple[str, str]] = {
    "output": ("shaft.output_end", "output_yoke"),
    "shaft": ("shaft.output_end", "shaft_yoke"),
    "pinion": ("shaft.pinion_end", "pinion_yoke"),
}
"""Table and key of where a yoke mostly sits."""


def scan_lines(
    file: str,
    unit: str | None,
    picks: Sequence[Sequence[float]] | None,
    cross: str | None,
    source: str,
) -> str:
    """Lines for a yoke from a mesh file; picks in the numbers of the file."""
    table: dict[str, Any] = {"kind": OWN_YOKE, "file": file}
    if unit in UNITS:
        table["unit"] = unit
    if picks is not None:
        table["picks"] = [list(point) for point in picks]
    return _text(scan_remarks(source), cross, "shaft_yoke", table)


def caliper_lines(cross: str, table: Mapping[str, str], measured: int, asked: int) -> str:
    """Lines for a yoke of the catalogue with the dimensions that were measured."""
    place, key = _PLACES[yoke_class(table["kind"]).sits]
    remarks = caliper_remarks(table["kind"], measured, asked, key, place)
    return _text(remarks, cross, key, table)


def _text(remarks: Iterable[str], cross: str | None, key: str, table: Mapping[str, Any]) -> str:
    inline = tomlkit.inline_table()
    inline.update(table)
    # Without a cross the line is a remark, so that nobody gets one that was not chosen.
    crossing = f"cross = {tomlkit.item(cross).as_string()}" if cross else '# cross = "27 x 82"'
    return "\n".join(
        [*(f"# {remark}" for remark in remarks), crossing, f"{key} = {inline.as_string()}"]
    )
