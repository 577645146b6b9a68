"""Parts of an answer are built once, whoever shows them and in whichever order they ask."""

from dataclasses import replace

import pytest

from tests.viewer.session.conftest import checked
from viewer.draw.shading import sharp_edges
from viewer.draw.vtk_parts import shaded
from viewer.scene.kept_parts import KEPT, parts_of, shaft_of
from viewer.scene.shaft_parts import checked_shaft

RIG = "long-legged-trail-wagon"


def test_whoever_asks_gets_the_same_parts_in_the_same_order() -> None:
    check = checked(RIG)
    first, second = parts_of(check), parts_of(check)
    ahead = [next(first) for _ in range(4)]
    whole = list(second)
    assert [*ahead, *first] == whole, "by identity: parts are equal to nothing else"
    assert list(parts_of(check)) == whole
    shaft = list(shaft_of(check))
    assert shaft == whole[: len(shaft)]
    assert [part.name for part in shaft] == [part.name for part in checked_shaft(check)]
    assert {part.group for part in whole[len(shaft) :]} == {"suspension", "surroundings"}


def test_equal_answers_are_two_and_the_oldest_goes() -> None:
    check = checked(RIG)
    others = [replace(check) for _ in range(KEPT)]
    whole = list(shaft_of(check))
    for other in others[:-1]:
        assert list(shaft_of(other)) != whole
        assert list(shaft_of(check)) == whole, "what is in use stays"
    assert all(next(shaft_of(other)) for other in others)
    assert list(shaft_of(check)) != whole, "it was asked for longest ago"


@pytest.mark.parametrize("make", [shaded, sharp_edges])
def test_what_is_made_of_a_mesh_is_made_once(make: object) -> None:
    mesh = next(shaft_of(checked(RIG))).pieces[0].in_part
    assert callable(make)
    assert make(mesh) is make(mesh)
