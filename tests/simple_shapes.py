"""Simple closed shapes that stand in for yokes where a closed form is known."""

import numpy as np
import trimesh

from geometry.mesh import Mesh

TOUCH_GAP = 0.004
"""mm. No more is left between bodies at the last bend that is clear: a tenth of the chord error."""

ALONG_X = trimesh.transformations.rotation_matrix(np.pi / 2, [0, 1, 0])


def as_mesh(body: trimesh.Trimesh, name: str, chord: float = 0.0) -> Mesh:
    return Mesh.uniform(body.vertices, body.faces, name, chord)


def box(low: tuple[float, float, float], high: tuple[float, float, float], name: str) -> Mesh:
    return as_mesh(trimesh.creation.box(bounds=[low, high]), name)


def ball(centre: tuple[float, float, float], radius: float, name: str) -> Mesh:
    """A ball whose mesh vertices lie on the true sphere; its chord is measured."""
    body = trimesh.creation.icosphere(subdivisions=4, radius=radius)
    chord = radius - float(np.linalg.norm(body.triangles_center, axis=1).min())
    return as_mesh(body.apply_translation(centre), name, chord)


def hub(face: float, radius: float, sections: int = 96, thick: float = 30.0) -> Mesh:
    """A disc about +x, its near face at x = `face`, circumscribed about the true cylinder."""
    outside = radius / np.cos(np.pi / sections)
    body = trimesh.creation.cylinder(outside, thick, sections=sections)
    body.apply_transform(ALONG_X).apply_translation([face + 0.5 * thick, 0.0, 0.0])
    return as_mesh(body, "hub", outside - radius)
