"""A place on an edge has one name, whichever triangle was met there."""

import numpy as np
import pytest

from geometry.contact.gap import gap_at
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.contact.naming import surface_at
from geometry.contact.touch import touch_curve
from geometry.mesh import Mesh
from sim.parts.catalogue import cross_shape, yoke_shape
from tests.simple_shapes import box

PLATE = box((0, 0, 0), (40, 40, 10), "plate")
TOP, SIDE = 10.0, 40.0


def named() -> Mesh:
    """A plate whose top is called "throat" and whose sides are called "ear root"."""
    top = np.isclose(PLATE.triangles[..., 2], TOP).all(axis=1)
    labels = np.where(top, 0, 1).astype(np.int16)
    return Mesh(PLATE.vertices, PLATE.faces, labels, ("throat", "ear root"))


@pytest.mark.parametrize("order", [("throat", "ear root"), ("ear root", "throat")])
def test_a_place_near_an_edge_is_called_alike_from_either_side(order: tuple[str, str]) -> None:
    mesh = named()
    labels = np.array([order.index(mesh.label_names[label]) for label in mesh.labels], np.int16)
    mesh = Mesh(mesh.vertices, mesh.faces, labels, order)
    top = np.flatnonzero(np.isclose(mesh.triangles[..., 2], TOP).all(axis=1))
    side = np.flatnonzero(np.isclose(mesh.triangles[..., 0], SIDE).all(axis=1))
    for x, z in ((SIDE, TOP), (SIDE - 0.9, TOP), (SIDE, TOP - 0.9)):
        point = np.array([x, 20.0, z])
        assert {surface_at(mesh, int(i), point) for i in (*top, *side)} == {"throat"}
    assert surface_at(mesh, int(top[0]), np.array([20.0, 20.0, TOP])) == "throat"
    assert surface_at(mesh, int(side[0]), np.array([SIDE, 20.0, 5.0])) == "ear root"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("driving", "driven", "cross"),
    [("weld yoke", "strap yoke", "27 x 82"), ("weld yoke", "strap yoke", "30 x 106")],
)
def test_first_touch_and_gap_and_mirror_image_name_a_contact_alike(
    driving: str, driven: str, cross: str
) -> None:
    """Just before it touches, at the same turn and at its mirror image."""
    one, other = (yoke_shape(kind, cross).build().contact for kind in (driving, driven))
    joint = ClosingJoint(JointParts(one, other, cross_shape(cross).build().contact))
    assert joint.turn.mirror
    curve = touch_curve(joint, spins=36)
    seen = set()
    for spin, contact in zip(curve.spin, curve.contacts, strict=True):
        if contact is None:
            continue
        for turn in (float(spin), -float(spin)):
            gap = gap_at(joint, contact.bend, turn)
            if gap.bodies == contact.bodies and gap.distance < 0.01:
                assert gap.surfaces == contact.surfaces, np.degrees(spin)
                seen.add(gap.surfaces)
    assert len(seen) > 1
