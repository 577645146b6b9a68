"""How far the outer yokes of a head stay apart, kept on disk: a head is asked once and for all."""

from contextlib import suppress
from math import inf
from pathlib import Path

from geometry.built import built
from geometry.head import HeadShape
from geometry.head.outer_pair import OuterLimit, outer_limit
from sim.kept.answers import cache_folder, entry_name, read_entry, write_entry

MOST_ENTRIES = 500
"""About 50 kB."""


def cached_outer_limit(shape: HeadShape, most: float, folder: Path | None = None) -> OuterLimit:
    """Return up to which bend, at most `most` (rad), a head's outer yokes are certified apart.

    folder : where entries are kept; `heads` below `cache_folder()` when left out. A cache that
    cannot be read or written costs time, never the answer.
    """
    name = entry_name(head=repr(shape), most=float(most).hex())
    place = (folder or cache_folder() / "heads") / name
    data = read_entry(place)
    if isinstance(data, dict) and isinstance(data.get("clear"), float):
        touch = data.get("touch")
        return OuterLimit(data["clear"], float(touch) if isinstance(touch, float) else inf)
    found = outer_limit(built(shape), most)
    with suppress(OSError):
        touch = found.touch if found.touch < inf else None
        write_entry(place, {"clear": found.clear, "touch": touch}, MOST_ENTRIES)
    return found
