"""Own yokes kept on disk by the content of their files, so that a mesh is mended and placed once.

What is kept is the yoke as it was placed, mended and reduced, and what is worth knowing of it. The
name of the file is no part of it: a copy under another name is the same yoke.
"""

from base64 import b64decode, b64encode
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

import numpy as np

from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.yoke import Yoke
from sim.kept.answers import cache_folder, entry_name, read_entry, write_entry
from sim.remark import Remark, remark_of

MOST_ENTRIES = 60
"""About 40 MB."""

MOST_BYTES = 300_000_000
"""A larger file is not read at all, so its content need not be known."""


@dataclass(frozen=True)
class OwnYoke:
    """What is asked of a mesh file; lengths in mm.

    file : the mesh; unit, picks : as in `geometry.imported.imported_yoke`
    cap_diameter, cap_span, cap_length, tube_diameter, weld_land : what is added to it, as in
        `geometry.imported.Fittings`, which is not made where the answer is known
    """

    file: Path
    unit: str | None
    picks: Sequence[Sequence[float]] | None
    cap_diameter: float
    cap_span: float
    cap_length: float
    tube_diameter: float | None = None
    weld_land: float | None = None

    @property
    def added(self) -> dict[str, float | None]:
        """What is added to the mesh, mm, by name."""
        names = ("cap_diameter", "cap_span", "cap_length", "tube_diameter", "weld_land")
        return {name: getattr(self, name) for name in names}


def placed_yoke(asked: OwnYoke, folder: Path | None = None) -> tuple[Yoke, tuple[Remark, ...]]:
    """Return the yoke in a mesh file and what is worth knowing of it, from the cache or read anew.

    folder : where entries are kept; `yokes` below `cache_folder()` when left out

    A cache that cannot be read or written costs time, never the answer.
    Raises MeshError for what cannot be read, mended or placed.
    """
    folder = folder or cache_folder() / "yokes"
    name = _name(asked)
    if name is not None:
        kept = _read(read_entry(folder / name), asked.file)
        if kept is not None:
            return kept
    # Reading mesh files is rare, and what it needs is slow to start.
    from geometry.imported import Fittings, imported_yoke  # noqa: PLC0415

    fittings = Fittings(True, *asked.added.values())
    made = imported_yoke(asked.file, asked.unit, asked.picks, fittings=fittings)
    notes = tuple(map(remark_of, made.report.notes))
    # A file that was written over while it was read is no answer to what it was.
    if name is not None and name == _name(asked):
        with suppress(OSError):
            write_entry(folder / name, _data(made.yoke, made.report.notes), MOST_ENTRIES)
    return made.yoke, notes


def _name(asked: OwnYoke) -> str | None:
    """Name of an entry: the content of the file and all that is asked of it.

    None for a file that cannot be read, which whoever reads it will tell.
    """
    file, picks = asked.file, asked.picks
    try:
        if not file.is_file() or file.stat().st_size > MOST_BYTES:
            return None
        content = sha256()
        with file.open("rb") as data:
            while chunk := data.read(1 << 20):
                content.update(chunk)
    except OSError:
        return None
    return entry_name(
        content=content.hexdigest(),
        ending=file.suffix.lower(),  # what a file is may hang on it
        unit=asked.unit,
        picks=None if picks is None else np.array(picks, dtype=np.float64).tolist(),
        added=asked.added,
    )


def _data(yoke: Yoke, notes: Sequence[Any]) -> dict[str, Any]:
    return {
        "kind": yoke.kind,
        "parts": {name: _mesh_data(mesh) for name, mesh in yoke.parts.items()},
        "weld_land": yoke.tube_from,
        "dimensions": dict(yoke.dimensions),
        "notes": list(notes),
    }


def _mesh_data(mesh: Mesh) -> dict[str, Any]:
    arrays = (("vertices", "<f8"), ("faces", "<i4"), ("labels", "<i2"))
    return {
        name: b64encode(getattr(mesh, name).astype(kind).tobytes()).decode()
        for name, kind in arrays
    } | {"label_names": list(mesh.label_names), "chord": mesh.chord}


def _read(data: Any, file: Path) -> tuple[Yoke, tuple[Remark, ...]] | None:
    """The yoke of an entry; None where it is not whole."""
    try:
        parts = {str(name): _mesh(each) for name, each in data["parts"].items()}
        yoke = Yoke(
            file.stem,
            data["kind"],
            Mesh.join(parts.values()),
            parts,
            data["weld_land"],
            data["dimensions"],
        )
        return yoke, tuple(map(remark_of, data["notes"]))
    except (KeyError, TypeError, AttributeError, ValueError, BindpointError):
        return None


def _mesh(data: Mapping[str, Any]) -> Mesh:
    return Mesh(
        np.frombuffer(b64decode(data["vertices"]), "<f8").reshape(-1, 3),
        np.frombuffer(b64decode(data["faces"]), "<i4").reshape(-1, 3),
        np.frombuffer(b64decode(data["labels"]), "<i2"),
        tuple(data["label_names"]),
        data["chord"],
    )
