import pickle
from collections.abc import Mapping
from dataclasses import dataclass

import pytest

from geometry.built import Built


@dataclass(frozen=True, eq=False)
class Knob(Built):
    name: str
    sizes: Mapping[str, float]


def test_its_mappings_are_its_own_and_read_only() -> None:
    sizes = {"bore": 27.0}
    knob = Knob("plain", sizes)
    sizes["bore"] = 30.0
    assert knob.sizes["bore"] == 27.0
    with pytest.raises(TypeError):
        knob.sizes["bore"] = 1.0  # type: ignore[index]


def test_it_travels_in_a_pickle() -> None:
    knob = pickle.loads(pickle.dumps(Knob("plain", {"bore": 27.0})))
    assert isinstance(knob, Knob)
    assert (knob.name, dict(knob.sizes)) == ("plain", {"bore": 27.0})
    with pytest.raises(TypeError):
        knob.sizes["bore"] = 1.0
