"""How far the outer yokes of a head stay apart, kept on disk: a head is asked once and for all."""

import json
from contextlib import suppress
from dataclasses import asdict
from hashlib import sha256
from math import inf
from pathlib import Path

from geometry.head import HeadParts
from geometry.head.outer_pair import OuterLimit, outer_limit
from geometry.tolerances import TOL
from sim.kept.answers import cache_folder, read_entry, write_entry

FORMAT = 3
"""Raised whenever the search or the layout changes, so that old entries are left alone."""

MOST_ENTRIES = 500
"""About 50 kB."""


def cached_outer_limit(parts: HeadParts, most: float, folder: Path | None = None) -> OuterLimit:
    """Return up to which bend, at most `most` (rad), a head's outer yokes are certified apart.

    folder : where entries are kept; `heads` below `cache_folder()` when left out. A cache that
    cannot be read or written costs time, never the answer.
    """
    told = {"most": most.hex(), "span": parts.span.hex(), "ball": parts.ball.hex()}
    recipe = json.dumps({"format": FORMAT, "tolerances": asdict(TOL), **told})
    socket = parts.sliding.parts["socket"].key()
    meshes = f"{parts.carrying.contact.key()} {parts.sliding.contact.key()} {socket}"
    name = sha256(f"{meshes} {recipe}".encode()).hexdigest()
    place = (folder or cache_folder() / "heads") / f"{name}.json"
    data = read_entry(place)
    if isinstance(data, dict) and isinstance(data.get("clear"), float):
        touch = data.get("touch")
        return OuterLimit(data["clear"], float(touch) if isinstance(touch, float) else inf)
    found = outer_limit(parts, most)
    with suppress(OSError):
        touch = found.touch if found.touch < inf else None
        write_entry(place, {"clear": found.clear, "touch": touch}, MOST_ENTRIES)
    return found
