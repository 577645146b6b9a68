"""GLB files: binary glTF, a tree of placed meshes; by its standard in metres."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from geometry.errors import MeshError
from geometry.imported.foreign import read_foreign
from geometry.imported.raw import RawMesh
from geometry.imported.stl import demand_few

_JSON_BYTES = 20_000_000
"""Largest description read; the triangles are not in it."""

_HARMLESS = ("KHR_materials", "KHR_texture")
"""Extensions that say how a part looks and not what it is."""

_PLACES = 10_000
"""Placed meshes in a file; an assembly of one joint has dozens."""


def read_glb(path: Path) -> RawMesh:
    """Return the triangles of a GLB file, every mesh at its place.

    The format says metres; many programs write millimetres all the same.
    Raises MeshError for a damaged file, packed meshes and too many triangles.
    """
    description = _description(path)
    try:
        packed = [str(name) for name in description.get("extensionsRequired", [])]
        faces = _faces(description)
    except (KeyError, IndexError, TypeError, AttributeError) as error:
        raise MeshError(f"{path.name}: not a sound GLB file ({error!r})") from error
    packed = [name for name in packed if not name.startswith(_HARMLESS)]
    if packed:
        raise MeshError(
            f"{path.name}: its triangles are packed with {', '.join(packed)}; export it without "
            "compression"
        )
    demand_few(path.name, faces)
    return read_foreign(path, "glb", unit="m")


def _description(path: Path) -> dict[str, Any]:
    with path.open("rb") as file:
        head = file.read(20)
        length = int.from_bytes(head[12:16], "little")
        if head[:4] != b"glTF" or head[16:20] != b"JSON" or length > _JSON_BYTES:
            raise MeshError(f"{path.name}: not a GLB file of version 2")
        text = file.read(length)
    try:
        found = json.loads(text)
    except (ValueError, RecursionError) as error:
        raise MeshError(f"{path.name}: its description is not sound JSON ({error})") from error
    if not isinstance(found, dict):
        raise MeshError(f"{path.name}: its description is no JSON object")
    return found


def _faces(description: dict[str, Any]) -> int:
    """Return how many triangles all placed meshes have, walking the tree of places."""
    accessors, meshes, nodes = (
        description.get(key, []) for key in ("accessors", "meshes", "nodes")
    )
    sizes = [
        sum(
            accessors[part["indices"] if "indices" in part else part["attributes"]["POSITION"]][
                "count"
            ]
            // 3
            for part in mesh["primitives"]
        )
        for mesh in meshes
    ]
    scenes = description.get("scenes", [])
    scene = scenes[description.get("scene", 0)] if scenes else {}
    waiting = list(scene.get("nodes", range(len(nodes))))
    total = places = 0
    while waiting:
        places += 1
        if places + len(waiting) > _PLACES:
            raise MeshError(f"more than {_PLACES:,} places in a GLB file, or a loop among them")
        node = nodes[waiting.pop()]
        waiting += node.get("children", [])
        if "mesh" in node:
            total += sizes[node["mesh"]]
    return total
