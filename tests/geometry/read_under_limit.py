"""Reads every mesh file of a folder under a limit of memory, and tells what came of each as JSON.

`python -m tests.geometry.read_under_limit FOLDER`. Where the system knows no limits of that kind
(Windows), the files are read all the same and the memory is not told.
"""

from __future__ import annotations

import json
import sys
import time
from importlib.util import find_spec
from pathlib import Path

from geometry.errors import MeshError
from geometry.imported import FORMATS, read_mesh

ROOM = 4_000_000_000
"""Bytes of address space; what the libraries map is a good part of it."""


def peak() -> int | None:
    """Most memory this process has had, bytes, where the system tells."""
    if find_spec("resource") is None:
        return None
    import resource

    unit = 1 if sys.platform == "darwin" else 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * unit


def limit() -> None:
    if find_spec("resource") is not None:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (ROOM, ROOM))


def main() -> None:
    folder = Path(sys.argv[1])
    limit()
    for ending in FORMATS:  # what a reader imports is not what a file costs
        read_mesh(folder / f"sound{ending}")
    opened: set[str] = set()

    def hook(event: str, given: tuple[object, ...]) -> None:
        if event == "open" or event.startswith(("socket.", "urllib.")):
            opened.add(str(given[0]) if event == "open" else event)

    sys.addaudithook(hook)
    found = {}
    for path in sorted(folder.iterdir()):
        if path.suffix not in FORMATS:
            continue
        opened.clear()
        before, start = peak(), time.process_time()
        try:
            came = f"read: {len(read_mesh(path).faces)}"
        except MeshError as error:
            came = str(error)
        after = peak()
        found[path.name] = {
            "came": came,
            "seconds": time.process_time() - start,
            "grown": None if after is None or before is None else after - before,
            "opened": sorted(opened - {str(path)}),
        }
    sys.stdout.write(json.dumps(found))


if __name__ == "__main__":
    main()
