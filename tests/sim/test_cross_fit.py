"""The cross that fits the bores and ears of a yoke."""

import pytest

from sim.parts.catalogue import CatalogueError, CrossSize, cross_sizes, yoke_kinds, yoke_shape
from sim.parts.cross_fit import cross_that_fits, size_named

NAMES = [size.name for size in cross_sizes()]


@pytest.mark.parametrize("kind", yoke_kinds())
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("off", [-0.1, 0.0, 0.1])
def test_every_yoke_of_the_catalogue_gets_its_own_cross(kind: str, name: str, off: float) -> None:
    shape = yoke_shape(kind, name)
    assert cross_that_fits(shape.bore + off, shape.outside_span + off) == name


def test_bores_between_sizes_and_ears_too_near_get_none() -> None:
    assert cross_that_fits(28.5, 86.0) is None
    assert cross_that_fits(26.97, 70.0) is None


@pytest.mark.parametrize("size", cross_sizes())
def test_a_size_by_any_of_its_names(size: CrossSize) -> None:
    for name in (size.name, *size.aliases):
        assert size_named(name) == size.name


def test_an_unknown_name() -> None:
    with pytest.raises(CatalogueError, match="no cross 'x'"):
        size_named("x")
