"""Repairing a mesh as it comes from a file, and a report of what was wrong with it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.spatial import KDTree

from geometry.contact.containment import winding_number
from geometry.edges import Edges, components
from geometry.errors import MeshError
from geometry.imported.holes import Hole, filled, holes_in
from geometry.imported.raw import LIMITS, RawMesh, told_of
from geometry.mesh import Booleans, Floats, Indices, Mesh, compact

SURFACE, FILLED = "surface", "filled hole"
"""Names of what was in the file and of what closes a hole too large to be a mere flaw."""


@dataclass(frozen=True)
class RepairReport:
    """What was found in a mesh and mended; lengths in the unit of the file.

    faces : triangles in the file
    not_finite : triangles left out for numbers that are not finite
    doubled : triangles left out because they were there twice or had no area by their corners
    flipped : triangles turned over to face outward like their neighbours
    shells : separate pieces found
    specks : pieces left out as dust of the scanner
    hidden : pieces left out because they lie inside another, where nothing can touch them
    holes : holes filled
    longest_hole : round the edge of the longest one
    large_holes : holes too large to be a mere flaw; their filling is a surface of its own
    filled_share : share of the surface that is filling
    crowded_edges : edges that more than two triangles share; left as they are
    closed : whether the surface is closed now
    """

    faces: int
    not_finite: int = 0
    doubled: int = 0
    flipped: int = 0
    shells: int = 1
    specks: int = 0
    hidden: int = 0
    holes: int = 0
    longest_hole: float = 0.0
    large_holes: int = 0
    filled_share: float = 0.0
    crowded_edges: int = 0
    closed: bool = True


def repaired(raw: RawMesh) -> tuple[Mesh, RepairReport]:
    """Return the skin of the solid in a file, in the unit of the file, and what was mended.

    Equal points become one, doubled triangles and specks go, all triangles face outward, pieces
    inside others go, holes are filled. An open scan is thus always closed, which the check for
    one body inside another needs; the filling of large holes is named "filled hole", so that a
    touch there shows for what it is.

    Raises MeshError when it cannot be the skin of a solid: only twins back to back, a surface
    with one side, too many pieces or open edges, too much of it missing.
    """
    with told_of(raw.source):
        return _repaired(raw)


def _repaired(raw: RawMesh) -> tuple[Mesh, RepairReport]:
    size = raw.extent
    if not size > 0.0:
        raise MeshError("all its points are one; expected a surface")
    vertices, faces = _merged(raw.vertices, raw.faces)
    faces = without_twins(faces)
    if not len(faces):
        raise MeshError("its triangles enclose nothing; every one has a twin back to back")
    vertices, faces = _sewn(vertices, faces, LIMITS.seam * size)
    faces = without_twins(faces)
    doubled = len(raw.faces) - len(faces)
    faces, shells, specks = _without_specks(vertices, faces)
    faces, flipped = turned_outward(vertices, faces)
    faces, hidden = _without_hidden(vertices, faces)
    area = _area(vertices, faces)
    holes = holes_in(vertices, faces)
    faces, large, share = _filled(vertices, faces, holes, size, area)
    mesh = _as_mesh(vertices, faces, large)
    edges = Edges(np.asarray(mesh.faces, dtype=np.int64))
    return mesh, RepairReport(
        faces=len(raw.faces) + raw.not_finite,
        not_finite=raw.not_finite,
        doubled=doubled,
        flipped=flipped,
        shells=shells,
        specks=specks,
        hidden=hidden,
        holes=len(holes),
        longest_hole=holes[0].length if holes else 0.0,
        large_holes=sum(_is_large(hole, size) for hole in holes),
        filled_share=share,
        crowded_edges=edges.crowded,
        closed=edges.closed,
    )


def without_twins(faces: Indices) -> Indices:
    """Return the faces less the collapsed ones, repetitions, and pairs of twins back to back."""
    proper = (faces != np.roll(faces, 1, axis=1)).all(axis=1)
    faces = faces[proper]
    if not len(faces):
        return faces
    lead = np.argmin(faces, axis=1)[:, None]
    turned = np.take_along_axis(faces, (lead + np.arange(3)) % 3, axis=1)
    rising = turned[:, 1] < turned[:, 2]
    corner = np.sort(faces, axis=1)
    order = np.lexsort(corner.T[::-1])
    new = np.concatenate([[True], (np.diff(corner[order], axis=0) != 0).any(axis=1)])
    group = np.cumsum(new) - 1
    balance = np.bincount(group, np.where(rising[order], 1.0, -1.0))
    # Of each group one face stays, of the sense that is in the majority; none if there is none.
    wanted = np.where(rising[order], 1.0, -1.0) == np.sign(balance)[group]
    candidates = order[wanted]
    _, first = np.unique(group[wanted], return_index=True)
    return np.asarray(faces[np.sort(candidates[first])])


def _merged(vertices: Floats, faces: Indices) -> tuple[Floats, Indices]:
    """Make equal points one."""
    at, faces = compact(vertices, faces)
    at += 0.0  # so that -0 is 0
    order = np.lexsort(at.T)
    new = np.concatenate([[True], (np.diff(at[order], axis=0) != 0.0).any(axis=1)])
    number = np.empty(len(at), dtype=np.int64)
    number[order] = np.cumsum(new) - 1
    return at[order[new]], number[faces]


def _sewn(vertices: Floats, faces: Indices, within: float) -> tuple[Floats, Indices]:
    """Make points at open edges one where they are as near as a rounding."""
    edges = Edges(faces)
    rim = np.unique(edges.directed[edges.open])
    if len(rim) < 2:
        return vertices, faces
    pairs = KDTree(vertices[rim]).query_pairs(within, output_type="ndarray")
    piece = components(len(rim), pairs[:, 0], pairs[:, 1])
    _, first = np.unique(piece, return_index=True)
    number = np.arange(len(vertices))
    number[rim] = rim[first[piece]]
    return vertices, number[faces]


def _without_specks(vertices: Floats, faces: Indices) -> tuple[Indices, int, int]:
    shell = Edges(faces).shell
    count = int(shell.max()) + 1
    corner = vertices[faces]
    order = np.argsort(shell, kind="stable")
    first = np.searchsorted(shell[order], np.arange(count))
    low = np.minimum.reduceat(corner.min(axis=1)[order], first)
    high = np.maximum.reduceat(corner.max(axis=1)[order], first)
    span = np.linalg.norm(high - low, axis=1)
    speck = span < LIMITS.dust * span.max()
    kept = int((~speck).sum())
    if kept > LIMITS.shells:
        raise MeshError(
            f"{kept:,} separate pieces; expected one yoke, at most {LIMITS.shells} pieces. Join "
            "them in the scanner's software"
        )
    return faces[~speck[shell]], count, int(speck.sum())


def _without_hidden(vertices: Floats, faces: Indices) -> tuple[Indices, int]:
    """Leave out pieces that lie inside another one."""
    shell = Edges(faces).shell
    count = int(shell.max()) + 1
    if count == 1:
        return faces, 0
    _, first = np.unique(shell, return_index=True)
    points = vertices[faces[first, 0]]
    inside = np.zeros(count, dtype=bool)
    for other in range(count):
        wound = np.zeros(count)
        members = faces[shell == other]
        for start in range(0, len(members), _CHUNK):
            wound += _winding(vertices, members[start : start + _CHUNK], points)
        wound[other] = 0.0
        inside |= wound > 0.5
    return faces[~inside[shell]], int(inside.sum())


_CHUNK = 20_000
"""Triangles whose winding is asked at a time; keeps the work in some 100 MB."""


def _winding(vertices: Floats, faces: Indices, points: Floats) -> Floats:
    return winding_number(Mesh.uniform(*compact(vertices, faces), ""), points)


def _filled(
    vertices: Floats, faces: Indices, holes: list[Hole], size: float, area: float
) -> tuple[Indices, Booleans, float]:
    """Return faces with all holes filled, which of them fill large ones, and the filled share."""
    patches = filled(vertices, faces, holes)
    added = sum(_area(vertices, patch) for patch in patches)
    share = added / (area + added)
    if share > LIMITS.open_share:
        raise MeshError(
            f"the surface is open over about {100.0 * share:.0f} % of it, at most "
            f"{100.0 * LIMITS.open_share:.0f} % are closed; scan the missing side"
        )
    large = [np.zeros(len(faces), dtype=bool)]
    large += [np.full(len(p), _is_large(h, size)) for p, h in zip(patches, holes, strict=True)]
    return np.concatenate([faces, *patches]), np.concatenate(large), share


def _is_large(hole: Hole, size: float) -> bool:
    return hole.size > LIMITS.small_hole * size


def _area(vertices: Floats, faces: Indices) -> float:
    a, b, c = (vertices[faces[:, k]] for k in range(3))
    return float(0.5 * np.linalg.norm(np.cross(b - a, c - a), axis=1).sum())


def _as_mesh(vertices: Floats, faces: Indices, large: Booleans) -> Mesh:
    at, corners = compact(vertices, faces)
    names = (SURFACE, FILLED) if large.any() else (SURFACE,)
    mesh = Mesh(at, corners.astype(np.int32), large.astype(np.int16), names)
    if not mesh.volume > 0.0:
        raise MeshError("its triangles enclose nothing; expected the skin of a solid")
    return mesh


def turned_outward(vertices: Floats, faces: Indices) -> tuple[Indices, int]:
    """Return the faces all facing outward, and how many of them were turned.

    Every face is taken twice, as it is and turned over; two neighbours belong together as they
    are when they run along their common edge in opposite ways, else one of them turned. Of the
    two connected pieces that come out for each shell, the one of positive volume is right.

    Raises MeshError for a surface with only one side.
    """
    over = _against_first(faces)
    inward = _volume(vertices, faces, over, Edges(faces).shell) < 0.0
    over = over ^ inward
    return np.where(over[:, None], faces[:, ::-1], faces), int(over.sum())


def _against_first(faces: Indices) -> Booleans:
    """Return which faces run against the first one of their shell, (m,)."""
    edges, count = Edges(faces), len(faces)
    pairs = edges.shared_by(2)
    one, other = (pairs // 3).T
    start = edges.directed[pairs, 0]
    alike = start[:, 0] != start[:, 1]
    shift = np.where(alike, 0, count)
    sheet = components(
        2 * count,
        np.concatenate([one, one + count]),
        np.concatenate([other + shift, other + count - shift]),
    )
    upper, lower = sheet[:count], sheet[count:]
    if (upper == lower).any():
        raise MeshError(
            "the surface has only one side, like a twisted band; expected the skin of a solid"
        )
    return np.asarray(upper > lower)


def _volume(vertices: Floats, faces: Indices, over: Booleans, shell: Indices) -> Floats:
    """Return for each face the volume of its shell about the shell's own middle."""
    count = int(shell.max()) + 1
    corner = vertices[faces]
    weight = np.bincount(shell, minlength=count)
    middle = np.stack(
        [np.bincount(shell, corner[..., k].mean(axis=1), count) / weight for k in range(3)], 1
    )
    a, b, c = ((corner[:, k] - middle[shell]) for k in range(3))
    part = np.einsum("ij,ij->i", a, np.cross(b, c)) * np.where(over, -1.0, 1.0)
    return np.asarray(np.bincount(shell, part, count)[shell])
