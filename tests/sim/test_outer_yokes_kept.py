"""How far outer yokes stay apart comes back as it was found, and never for another head or bend."""

from dataclasses import fields, replace
from math import inf
from pathlib import Path

import pytest

from geometry.head.outer_pair import OuterLimit
from sim.kept import outer_yokes
from sim.kept.outer_yokes import cached_outer_limit
from tests.geometry.head_samples import sample


@pytest.mark.parametrize("touch", [inf, 0.41])
def test_what_comes_back_is_what_was_found_of_that_head_up_to_that_bend(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, touch: float
) -> None:
    asked: list[float] = []

    def found(_head: object, most: float) -> OuterLimit:
        asked.append(most)
        return OuterLimit(0.4, touch)

    monkeypatch.setattr(outer_yokes, "outer_limit", found)
    monkeypatch.setattr(outer_yokes, "built", lambda shape: shape)
    shape = sample()
    for _ in range(2):
        assert cached_outer_limit(shape, 0.5, tmp_path) == OuterLimit(0.4, touch)
    assert asked == [0.5]
    cached_outer_limit(shape, 0.5000001, tmp_path)
    assert asked == [0.5, 0.5000001]
    for each in fields(shape):
        if isinstance(value := getattr(shape, each.name), float):
            other = replace(shape, **{each.name: value * (1.0 + 1e-9)})
            count = len(asked)
            cached_outer_limit(other, 0.5, tmp_path)
            assert len(asked) == count + 1, each.name
