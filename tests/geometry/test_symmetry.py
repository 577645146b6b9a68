import numpy as np

from geometry.contact.symmetry import HALF_TURN_X, MIRROR_Y, MIRROR_Z, is_symmetric
from geometry.mesh import Mesh
from tests.simple_shapes import box, hub


def test_a_centred_box_is_symmetric_whatever_its_diagonals() -> None:
    body = box((0, -2, -3), (1, 2, 3), "box")
    for flip in (MIRROR_Y, MIRROR_Z, HALF_TURN_X):
        assert is_symmetric(body, flip)


def test_a_lopsided_box_is_symmetric_one_way_only() -> None:
    body = box((0, -2, -3), (1, 2, 4), "box")
    assert is_symmetric(body, MIRROR_Y)
    assert not is_symmetric(body, MIRROR_Z)
    assert not is_symmetric(body, HALF_TURN_X)


def test_a_dent_in_an_otherwise_symmetric_mesh_is_seen() -> None:
    """Vertices may still pair up while a flipped, non-planar diagonal changes the surface."""
    body = hub(20.0, 40.0, 24)
    dented = np.array(body.vertices)
    dented[np.argmax(dented[:, 1])] += [0.0, 0.01, 0.0]
    assert not is_symmetric(Mesh.uniform(dented, body.faces, "dented"), MIRROR_Y)


def test_a_flipped_diagonal_on_a_bent_quad_is_not_symmetric() -> None:
    corner = np.array([[0, 1, 1], [0, -1, 1], [0.5, -1, -1], [0, 1, -1.0]])
    corner[:, 2] += 5.0
    bent = np.concatenate([corner, corner * MIRROR_Y])
    faces = np.array([[0, 1, 2], [0, 2, 3], [4, 5, 6], [4, 6, 7]])
    same = Mesh.uniform(bent, faces, "bent")
    assert is_symmetric(same, MIRROR_Y)
    other = Mesh.uniform(bent, [[0, 1, 2], [0, 2, 3], [5, 6, 7], [4, 5, 7]], "bent")
    assert not is_symmetric(other, MIRROR_Y)


def test_a_stray_vertex_on_a_flat_face_does_no_harm_but_off_it_does() -> None:
    body = box((0, -2, -3), (1, 2, 3), "box")
    corners = body.triangles[0]
    for lift, same in ((0.0, True), (0.01, False)):
        extra = corners.mean(axis=0) + lift * np.sign(corners.mean(axis=0) - [0.5, 0, 0])
        a, b, c = body.faces[0]
        n = len(body.vertices)
        faces = np.concatenate([body.faces[1:], [[a, b, n], [b, c, n], [c, a, n]]])
        stray = Mesh.uniform(np.vstack([body.vertices, extra]), faces, "box")
        assert is_symmetric(stray, MIRROR_Y) is same
