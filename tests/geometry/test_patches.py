"""In which half turn a patch of contact is struck, by its arcs of spin."""

from math import pi
from typing import Any

import pytest

from geometry.contact.patches import Arc, Patch

NOTHING: Any = None


@pytest.mark.parametrize(
    ("arcs", "turns"),
    [
        (((0.1, 0.2),), (1,)),
        (((pi + 0.1, pi + 0.2),), (2,)),
        (((-pi / 6.0, -pi / 6.0 + 0.1),), (1,)),  # they are parted 30 deg before the bores' plane
        (((-pi / 6.0 - 0.1, -pi / 6.0),), (2,)),
        (((2.0 * pi - 0.1, 2.0 * pi + 0.1),), (1,)),  # past a whole turn
        (((0.1, 0.2), (pi + 0.1, pi + 0.2)), (1, 2)),
        (((0.0, 2.0 * pi),), (1, 2)),
        ((), ()),
    ],
)
def test_the_half_turn_is_that_of_the_middle_of_the_arc(
    arcs: tuple[Arc, ...], turns: tuple[int, ...]
) -> None:
    patch = Patch(NOTHING, NOTHING, "ear tip", "throat", None, False, arcs)
    assert patch.half_turns == turns
