"""Solids and their booleans; the only place that talks to the boolean library.

Every solid is closed, in double precision, and knows for each of its triangles which named
surface it came from: names survive unions, cuts and intersections. Each operation is checked,
since the library reports a failure only by an empty result.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Literal

import manifold3d
import numpy as np
import numpy.typing as npt

from geometry.errors import MeshError, ShapeError
from geometry.facets import EDGE, GAP, circle, facet_gap, facets_around, joined
from geometry.mesh import Floats, Indices, Labels, Mesh, compact

Axis = Literal["x", "y", "z"]

CRUMB = 1e-6
"""Volume, mm3, of a flake: a cube of a hundredth of a millimetre."""


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed body with named surfaces, mm.

    body : the library's own object
    names : original id of a primitive to the name of its surface
    chord : largest distance between the true surface and its facets, right-angled edges
        included, mm
    """

    body: Any
    names: Mapping[int, str]
    chord: float = 0.0

    @property
    def volume(self) -> float:
        """Enclosed volume, mm3."""
        return float(self.body.volume())

    @property
    def pieces(self) -> int:
        """Number of separate bodies."""
        return len(self.body.decompose())

    def without_crumbs(self) -> Solid:
        """Return this solid without the flakes that rounding leaves where faces coincide."""
        whole = [body for body in self.body.decompose() if body.volume() > CRUMB]
        body = manifold3d.Manifold.batch_boolean(whole, manifold3d.OpType.Add)
        return _checked(replace(self, body=body), "cleaning")

    def largest_piece(self) -> Solid:
        """Return the largest of this solid's separate bodies."""
        body = max(self.body.decompose(), key=lambda each: float(each.volume()))
        return _checked(replace(self, body=body), "taking the largest piece")

    def simplified(self, within: float) -> Solid:
        """Return this solid with fewer triangles, its surface moved by `within` mm at most."""
        simple = replace(self, body=self.body.simplify(within), chord=self.chord + within)
        return _checked(simple, "simplifying")

    @classmethod
    def of(
        cls, vertices: npt.ArrayLike, faces: npt.ArrayLike, name: str, chord: float = 0.0
    ) -> Solid:
        """Return the solid inside closed, outward-facing triangles, (n, 3) mm and (m, 3).

        Raises MeshError when they are open, turned over or enclose nothing.
        """
        return cls.from_mesh(Mesh.uniform(vertices, faces, name, chord), f"making {name!r}")

    @classmethod
    def from_mesh(cls, mesh: Mesh, doing: str = "a mesh") -> Solid:
        """Return the solid inside a closed mesh; its surfaces keep their names.

        doing : what is being done, for messages

        Raises MeshError when it is open, turned over or encloses nothing.
        """
        order = np.argsort(mesh.labels, kind="stable")
        counts = np.bincount(mesh.labels, minlength=len(mesh.label_names))
        first = manifold3d.Manifold.reserve_ids(len(mesh.label_names))
        raw = manifold3d.Mesh64(
            vert_properties=np.array(mesh.vertices),
            tri_verts=np.ascontiguousarray(mesh.faces[order], dtype=np.uint64),
            run_index=3 * np.concatenate([[0], np.cumsum(counts)]).astype(np.uint64),
            run_original_id=first + np.arange(len(counts), dtype=np.uint32),
        )
        names = {first + i: name for i, name in enumerate(mesh.label_names)}
        return _checked(cls(manifold3d.Manifold(raw), names, mesh.chord), doing)

    @classmethod
    def union(cls, solids: Sequence[Solid]) -> Solid:
        """Return the body of all `solids` together."""
        if not solids:
            raise ShapeError("no solids given; expected at least one")
        volumes = [solid.volume for solid in solids]
        return _combined("union", solids, manifold3d.OpType.Add, max(volumes), sum(volumes))

    def cut(self, *tools: Solid) -> Solid:
        """Return what is left when every tool is taken away."""
        least = self.volume - sum(tool.volume for tool in tools)
        return _combined("cut", [self, *tools], manifold3d.OpType.Subtract, least, self.volume)

    def common(self, other: Solid) -> Solid:
        """Return what lies in both solids."""
        most = min(self.volume, other.volume)
        return _combined("intersection", [self, other], manifold3d.OpType.Intersect, 0.0, most)

    def turned_to(self, R: npt.ArrayLike) -> Solid:
        """Return this solid turned by the rotation R, (3, 3)."""
        turn = np.asarray(R, dtype=np.float64)
        if not np.allclose(turn @ turn.T, np.eye(3), rtol=0.0, atol=1e-9):
            raise MeshError("R is not a rotation; expected a 3 x 3 orthonormal matrix")
        body = self.body.transform(np.column_stack([turn, np.zeros(3)]))
        return _checked(replace(self, body=body), "turning")

    def mesh(self) -> Mesh:
        """Return the closed mesh with the names of its surfaces.

        Raises MeshError when it is not watertight or encloses nothing.
        """
        return _whole(self._closed(*self._skin()), self.volume)

    def mirrored_mesh(self) -> Mesh:
        """Return the mesh with exact mirror symmetry in y and z, triangle by triangle.

        Booleans cut flat faces into triangles as they please. A body that is its own mirror
        image both ways is made from its quarter instead; any other comes out as it is.
        """
        quarter = self.quarter()
        if not np.isclose(4.0 * quarter.volume, self.volume, rtol=1e-9, atol=0.0):
            return self.mesh()
        whole = quarter._unfolded()
        return whole if np.isclose(whole.volume, self.volume, rtol=1e-9, atol=0.0) else self.mesh()

    def quarter(self) -> Solid:
        """Return the part where y and z are positive; its two cut faces have no name."""
        body = self.body.trim_by_plane((0.0, 1.0, 0.0), 0.0).trim_by_plane((0.0, 0.0, 1.0), 0.0)
        return replace(self, body=body)

    def unfolded_mesh(self) -> Mesh:
        """Return the closed mesh of a quarter and its three mirror images in y and z.

        Raises MeshError when it is not watertight or not four times the quarter.
        """
        return _whole(self._unfolded(), 4.0 * self.volume)

    def _unfolded(self) -> Mesh:
        vertices, faces, labels = self._skin()
        named = labels >= 0
        return self._closed(*_unfold(vertices, faces[named], labels[named]))

    @property
    def _surfaces(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self.names.values()))

    def _skin(self) -> tuple[Floats, Indices, Labels]:
        """Return vertices, faces and the surface of each; -1 where no named solid made it."""
        raw = self.body.to_mesh64()
        labels = np.full(len(raw.tri_verts), -1, dtype=np.int16)
        bounds = np.asarray(raw.run_index, dtype=np.int64) // 3
        for original, start, stop in zip(raw.run_original_id, bounds[:-1], bounds[1:], strict=True):
            if int(original) in self.names:
                labels[start:stop] = self._surfaces.index(self.names[int(original)])
        return *_merged(raw), labels

    def _closed(self, vertices: Floats, faces: Indices, labels: Labels) -> Mesh:
        mesh = Mesh(vertices, faces.astype(np.int32), labels, self._surfaces, self.chord)
        if not mesh.is_watertight or mesh.volume <= 0.0:
            raise MeshError("a solid came out open or empty; expected a closed body")
        return mesh


def prism(outline: npt.ArrayLike, axis: Axis, start: float, stop: float, name: str) -> Solid:
    """Return the `outline` drawn out along `axis` from `start` to `stop`, mm.

    outline : (n, 2) mm, counter-clockwise seen against the axis, in the two coordinates that
        follow it: (y, z) for x, (z, x) for y, (x, y) for z
    """
    flat = np.asarray(outline, dtype=np.float64)
    return loft([(start, flat), (stop, flat)], axis, name)


def cylinder(
    axis: Axis,
    radius: float,
    start: float,
    stop: float,
    name: str,
    centre: tuple[float, float] = (0.0, 0.0),
    hole: bool = False,
    facets: int | None = None,
) -> Solid:
    """Return a cylinder along `axis`; a `hole` is a cutting tool smaller than the true hole.

    centre : where its own axis passes, in the two coordinates that follow `axis`, mm
    facets : their number, to go with a neighbour; just enough if left out
    """
    count = facets or facets_around(radius, hole)
    outline = circle(radius, hole, count) + np.asarray(centre)
    chord = EDGE * facet_gap(radius, count, hole)
    return replace(prism(outline, axis, start, stop, name), chord=chord)


def loft(sections: Sequence[tuple[float, Floats]], axis: Axis, name: str) -> Solid:
    """Return the body ruled between outlines at rising places along `axis`.

    sections : (place, outline) with outlines as for `prism`. Outlines of one length are joined
        corner to corner; others must be convex and are joined as their hull would be
    """
    if len(sections) < 2:
        raise ShapeError(f"a loft needs two or more outlines; {len(sections)} came")
    starts = np.cumsum([0, *(len(outline) for _, outline in sections)])
    vertices = [_placed(axis, place, *outline.T) for place, outline in sections]
    near_end, far_end = (
        np.asarray(manifold3d.triangulate([outline]), dtype=np.int64)
        for outline in (sections[0][1], sections[-1][1])
    )
    sides = [
        joined(near, far) + start
        for start, ((_, near), (_, far)) in zip(starts[:-2], pairwise(sections), strict=True)
    ]
    faces = [near_end[:, ::-1], far_end + starts[-2], *sides]
    return Solid.of(np.concatenate(vertices), np.concatenate(faces), name)


def hull(points: npt.ArrayLike, name: str, chord: float = 0.0) -> Solid:
    """Return the convex hull of (n, 3) `points`, mm.

    chord : the largest chord of the outlines the points belong to; a hull never enlarges it
    """
    body = manifold3d.Manifold.hull_points(np.asarray(points, dtype=np.float64))
    original = body.as_original()
    named = Solid(original, {int(original.original_id()): name}, chord)
    return _checked(named, f"hull {name!r}")


def turned(
    profile: npt.ArrayLike,
    axis: Axis,
    name: str,
    centre: tuple[float, float] = (0.0, 0.0),
    hole: bool = False,
    gap: float = GAP,
    sweep: tuple[float, float] | None = None,
    facets: int | None = None,
    flats: bool = False,
) -> Solid:
    """Return the body that a lathe makes of a profile.

    profile : (n, 2) of (place along the axis, radius), mm, counter-clockwise when radius points
        up; radii of 0 only at its two ends
    centre : where the axis passes, in the two coordinates that follow `axis`, mm
    hole : whether it is a cutting tool for a hole, with corners on the true circle
    sweep : angles, rad, from the first following coordinate, between which to turn; all round
        if left out
    facets : their number; just enough for `gap` if left out
    flats : whether the facets are the part itself and no approximation
    """
    outline = np.asarray(profile, dtype=np.float64)
    largest = float(outline[:, 1].max())
    start, stop = (0.0, 2.0 * np.pi) if sweep is None else sweep
    share = (stop - start) / (2.0 * np.pi)
    count = facets or int(np.ceil(facets_around(largest, hole, gap) * share - 1e-9))
    step = (stop - start) / count
    shift = 0.5 if sweep is None and not hole else 0.0
    angle = start + step * (np.arange(count + (sweep is not None)) + shift)
    radius = outline[:, 1] * (1.0 if hole else 1.0 / np.cos(step / 2.0))
    aside, up = np.cos(angle)[:, None] * radius, np.sin(angle)[:, None] * radius
    vertices = _placed(axis, outline[:, 0], centre[0] + aside, centre[1] + up).reshape(-1, 3)
    # The copies of a point on the axis are one vertex.
    place = np.arange(len(vertices)) % len(outline)
    number = np.where((outline[:, 1] == 0.0)[place], place, np.arange(len(vertices)))
    faces = number[_lathe_faces(len(angle), outline, closed=sweep is None)]
    proper = (faces != np.roll(faces, 1, axis=1)).all(axis=1)
    chord = 0.0 if flats else EDGE * facet_gap(largest, round(2.0 * np.pi / step), hole)
    return Solid.of(*compact(vertices, faces[proper]), name, chord)


def _placed(axis: Axis, along: npt.ArrayLike, first: Floats, second: Floats) -> Floats:
    """Return points, (..., 3), by their place along an axis and the two coordinates after it."""
    # Cyclic, so that an outline seen along an axis keeps its sense of turn.
    return np.roll(np.stack(np.broadcast_arrays(along, first, second), -1), "xyz".index(axis), -1)


def _lathe_faces(rows: int, outline: Floats, closed: bool) -> Indices:
    count = len(outline)
    here = np.arange(count)
    there = np.roll(here, -1)
    on_axis = (outline[here, 1] == 0.0) & (outline[there, 1] == 0.0)
    here, there = here[~on_axis], there[~on_axis]
    faces = []
    for row in range(rows if closed else rows - 1):
        now, after = row * count, (row + 1) % rows * count
        faces += [
            np.stack([here + now, there + now, there + after], 1),
            np.stack([here + now, there + after, here + after], 1),
        ]
    if not closed:
        flat = np.asarray(manifold3d.triangulate([outline]), dtype=np.int64)
        faces += [flat[:, ::-1], flat + (rows - 1) * count]
    return np.concatenate(faces).astype(np.int64)


def _combined(
    doing: str, solids: Sequence[Solid], operation: Any, least: float, most: float
) -> Solid:
    """Return the outcome of a boolean, whose volume must lie between two."""
    body = manifold3d.Manifold.batch_boolean([solid.body for solid in solids], operation)
    names = {key: name for solid in solids for key, name in solid.names.items()}
    made = _checked(Solid(body, names, max(solid.chord for solid in solids)), doing)
    slack = 1e-9 * max(abs(least), abs(most)) + 1e-9
    if not least - slack <= made.volume <= most + slack:
        raise MeshError(f"{doing}: {made.volume:g} mm3; expected {least:g} to {most:g} mm3")
    return made


def _merged(raw: Any) -> tuple[Floats, Indices]:
    """Return vertices and faces with the library's doubled vertices made one."""
    vertices = np.asarray(raw.vert_properties, dtype=np.float64)[:, :3]
    target = np.arange(len(vertices))
    target[np.asarray(raw.merge_from_vert, dtype=np.int64)] = np.asarray(
        raw.merge_to_vert, dtype=np.int64
    )
    return compact(vertices, target[np.asarray(raw.tri_verts, dtype=np.int64)])


def _unfold(vertices: Floats, faces: Indices, labels: Labels) -> tuple[Floats, Indices, Labels]:
    """Return the four mirror images in y and z of a quarter, joined along the two planes."""
    for axis in (1, 2):
        flat = np.abs(vertices[:, axis]) < 1e-9
        vertices[flat, axis] = 0.0
        count = len(vertices)
        twin = np.where(flat, np.arange(count), np.arange(count) + count)
        image = vertices * np.where(np.arange(3) == axis, -1.0, 1.0)
        vertices = np.concatenate([vertices, image])
        faces = np.concatenate([faces, twin[faces[:, ::-1]]])
        labels = np.concatenate([labels, labels])
    return *compact(vertices, faces), labels


def _whole(mesh: Mesh, volume: float) -> Mesh:
    """Return a mesh that encloses what the library says of its body, mm3."""
    if not np.isclose(mesh.volume, volume, rtol=1e-9, atol=1e-9):
        raise MeshError(f"triangles enclose {mesh.volume:g} mm3; expected the body's {volume:g}")
    return mesh


def _checked(solid: Solid, doing: str) -> Solid:
    """Return a body that is sound by what the library says; its skin is held to it by `mesh`."""
    status = solid.body.status()
    if status != manifold3d.Error.NoError:
        raise MeshError(f"{doing}: {status.name}; expected a closed, outward-facing body")
    if solid.body.is_empty():
        raise MeshError(f"{doing}: nothing is left; the dimensions leave no metal")
    if solid.volume <= 0.0:
        raise MeshError(f"{doing}: the triangles face inward; expected outward-facing ones")
    return solid
