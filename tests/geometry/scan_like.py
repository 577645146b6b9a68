"""Meshes as a scanner or a CAD program would give them, made from shapes that are known."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from zipfile import ZipFile

import numpy as np
import trimesh
from scipy.spatial.transform import Rotation

from geometry.imported.decimation import collapsed
from geometry.mesh import Mesh
from sim.parts.catalogue import yoke_shape


def own_yoke(kind: str, cross: str = "27 x 82") -> Mesh:
    """The forging of a yoke of the catalogue, its bores open."""
    return yoke_shape(kind, cross).build().parts["body"]


def dense(mesh: Mesh, edge: float, noise: float = 0.0, faces: int | None = None) -> Mesh:
    """The same surface in triangles no longer than `edge`, its corners moved by normal noise."""
    vertices, triangles = trimesh.remesh.subdivide_to_size(mesh.vertices, mesh.faces, edge)
    body = trimesh.Trimesh(vertices, triangles)
    body.merge_vertices()
    moved = body.vertices + np.random.default_rng(1).normal(0.0, noise, body.vertices.shape)
    found = Mesh.uniform(moved, body.faces, "surface")
    return found if faces is None else collapsed(found, faces)


def somewhere(seed: int) -> tuple[np.ndarray, np.ndarray]:
    """A rotation and a shift of up to some hundred mm."""
    random = np.random.default_rng(seed)
    return Rotation.random(random_state=random).as_matrix(), random.uniform(-300.0, 300.0, 3)


def write(path: Path, mesh: Mesh, scale: float = 1.0, unit: str = "millimeter") -> Path:
    """Write a mesh in the format of the path's ending, its numbers `scale` times as large."""
    vertices = np.asarray(mesh.vertices) * scale
    if path.suffix == ".3mf":
        path.write_bytes(threemf(vertices, np.asarray(mesh.faces), unit))
    else:
        trimesh.Trimesh(vertices, mesh.faces, process=False).export(path)
    return path


def threemf(vertices: np.ndarray, faces: np.ndarray, unit: str, inside: str = "") -> bytes:
    """A 3MF file of one object, or with `inside` as its resources and build."""
    points = "".join(f'<vertex x="{x!r}" y="{y!r}" z="{z!r}"/>' for x, y, z in vertices.tolist())
    sides = "".join(f'<triangle v1="{a}" v2="{b}" v3="{c}"/>' for a, b, c in faces.tolist())
    body = f"<mesh><vertices>{points}</vertices><triangles>{sides}</triangles></mesh>"
    text = inside or (
        f'<resources><object id="1" type="model">{body}</object></resources>'
        '<build><item objectid="1"/></build>'
    )
    text = text.replace("BODY", body)
    space = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
    packed = BytesIO()
    with ZipFile(packed, "w") as file:
        file.writestr("3D/3dmodel.model", f'<model unit="{unit}" xmlns="{space}">{text}</model>')
    return packed.getvalue()


def off_by(R_found: np.ndarray, p_found: np.ndarray, R: np.ndarray, p: np.ndarray) -> np.ndarray:
    """How far a found placement is off the known pose R, p: degrees and mm.

    A yoke is the same when turned half round its shaft, so that counts as no difference.
    """
    turn = R_found @ R
    shift = R_found @ p + p_found
    half = np.diag([1.0, -1.0, -1.0])
    angles = [Rotation.from_matrix(t).magnitude() for t in (turn, half @ turn)]
    return np.array([np.degrees(min(angles)), np.linalg.norm(shift)])
