import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from geometry.contact.containment import holds, nested, one_point_a_shell, winding_number
from geometry.mesh import Mesh
from tests.simple_shapes import ball, box

SMALL, LARGE = ball((0, 0, 0), 1.0, "small"), ball((0, 0, 0), 5.0, "large")


def test_a_body_wholly_inside_another_is_nested_either_way() -> None:
    assert nested(LARGE, SMALL, np.eye(3))
    assert nested(SMALL, LARGE, np.eye(3))
    assert not nested(LARGE, ball((20, 0, 0), 1.0, "away"), np.eye(3))


@given(st.lists(st.floats(-3.0, 3.0), min_size=3, max_size=3))
def test_winding_number_of_a_box_counts_its_inside(point: list[float]) -> None:
    inside = all(abs(x) < 1.0 - 1e-9 for x in point)
    outside = any(abs(x) > 1.0 + 1e-9 for x in point)
    number = winding_number(box((-1, -1, -1), (1, 1, 1), "box"), np.array(point))
    if inside:
        np.testing.assert_allclose(number, 1.0, atol=1e-9)
    if outside:
        np.testing.assert_allclose(number, 0.0, atol=1e-9)


def test_one_point_for_each_shell() -> None:
    two = Mesh.join([SMALL, ball((20, 0, 0), 1.0, "away")])
    points = one_point_a_shell(two)
    assert len(points) == 2
    assert holds(ball((20, 0, 0), 1.1, "around"), points).sum() == 1
