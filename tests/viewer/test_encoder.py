"""One encoder for every answer to a program: units by their keys, nothing that JSON has not."""

import json
from dataclasses import dataclass
from math import inf, nan, pi

import numpy as np

from sim.findings import Measure
from sim.remark import Remark
from sim.vehicle import Pose
from viewer.encoder import each_keyed, keyed, plain, publish


@dataclass(frozen=True)
class Inner:
    bends: tuple[float, ...]


@dataclass(frozen=True)
class Outer:
    name: str
    turn: float
    torque: float
    speed: float
    inner: Inner | None
    count: int = 3
    free: bool = True


OUTER = Outer("shaft", pi / 2.0, 2500.0, 2.0 * pi, Inner((pi, nan)))


def test_a_number_is_told_in_the_unit_that_its_key_ends_with() -> None:
    keys = "name turn_deg=turn torque_nm=torque turns_rpm=speed turn_mm=turn count free"
    assert keyed(OUTER, keys) == {
        "name": "shaft",
        "turn_deg": 90.0,
        "torque_nm": 2.5,
        "turns_rpm": 60.0,
        "turn_mm": pi / 2.0,
        "count": 3,
        "free": True,
    }


def test_a_path_goes_down_and_ends_where_there_is_nothing() -> None:
    assert keyed(OUTER, "bends_deg=inner.bends") == {"bends_deg": [180.0, None]}
    bare = Outer("shaft", 0.0, 0.0, 0.0, None)
    assert each_keyed([bare], "bends_deg=inner.bends") == [{"bends_deg": None}]


def test_what_several_answers_hold_is_told_alike() -> None:
    assert plain(Pose(-0.0, pi, -pi)) == {"travel_mm": 0.0, "roll_deg": 180.0, "wrap_deg": -180.0}
    assert "-0.0" not in json.dumps(plain(Pose(-0.0, -0.0, -0.0)))
    assert plain(Measure(inf, "mm")) == {"value": None, "unit": "mm"}
    assert plain(np.array([[0.0, pi]]), "of_deg") == [[0.0, 180.0]]
    assert plain(np.bool_(True)) is True
    assert plain({"a": (np.float64(pi),)}, "b_deg") == {"a": [180.0]}
    assert plain(Remark("no_travel")) == "no travel: only ride height is checked"


def test_a_unit_may_stand_behind_the_path_and_a_place_in_it() -> None:
    assert keyed(OUTER, "low=torque:nm tape=torque:fraction last=inner.bends.0:deg") == {
        "low": 2.5,
        "tape": "98 7/16 in",
        "last": 180.0,
    }


def test_what_has_keys_of_its_own_is_told_by_them_wherever_it_stands() -> None:
    publish({Inner: "bends_deg=bends"})
    assert keyed(OUTER, "inner") == {"inner": {"bends_deg": [180.0, None]}}
    assert plain((Inner(()),)) == [{"bends_deg": []}]
