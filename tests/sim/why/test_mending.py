"""What to do about each cause: complete, and each command one that the program takes."""

from math import radians
from typing import get_args

import pytest

from sim.causes.codes import CauseCode
from sim.rig.demos import load_demo
from sim.seen import inspection_from_data
from sim.seen.words import Use, Water
from sim.why.mending import (
    AskCode,
    Asking,
    DoCode,
    ProofCode,
    SwapCode,
    command,
    greasing,
    mending,
    yoke_gone,
)

CAUSES = get_args(CauseCode)


@pytest.mark.parametrize("cause", CAUSES)
def test_every_cause_is_mended_and_the_cure_proved(cause: CauseCode) -> None:
    found = mending(cause)
    assert found.swap
    assert found.do
    assert found.prove
    for codes in (found.swap, found.do, found.prove, found.asks):
        assert len(codes) == len(set(codes))


@pytest.mark.parametrize("cause", CAUSES)
def test_straps_and_bolts_are_always_new(cause: CauseCode) -> None:
    assert mending(cause).swaps(strapped=True).count("straps-and-bolts") == 1
    assert "straps-and-bolts" not in mending(cause).swaps(strapped=False)


def test_a_bad_yoke_goes_with_its_joint() -> None:
    for cause in ("bad-yoke", "bound", "undersized"):
        assert "yoke-with-the-joint" in mending(cause).swap  # type: ignore[arg-type]
    proofs = mending("bad-yoke").prove
    assert {"bar-through-both-bores", "ear-gap-by-caliper", "cap-pushed-home-by-hand"} <= {*proofs}
    assert "all-four-purge" in mending("dry-cap").prove
    assert "mark-the-slip" in mending("frozen-slip").prove


@pytest.mark.parametrize(
    ("caps", "cause", "gone"),
    [
        ({"seat": ["gouged"]}, "bad-seat", True),
        ({"seat": ["mushroomed edge"]}, "dry-cap", True),
        ({"seat": ["egg-shaped"]}, "water", True),
        ({"seat": ["burr"]}, "bad-seat", False),
        ({"ear": ["cracked"]}, "overload", True),
        ({"ear": ["hammer marks"]}, "bad-install", False),
        ({"strap": ["tab broken"]}, "hop", True),
        ({"strap": ["bent"]}, "hop", True),
        ({"strap": ["bent"]}, "loose-straps", False),
        ({"gouge": "0.010 in"}, "old-age", True),
    ],
)
def test_a_yoke_that_a_shop_refuses_is_replaced_whatever_the_cause(
    caps: dict[str, object], cause: CauseCode, gone: bool
) -> None:
    """Common practice, no source: no new joint goes into one; a burr alone is dressed."""
    data = {"schema": 1, "kind": "inspection", "joint": "pinion", "caps": {"end_a": caps}}
    rig = load_demo("goat-path-buggy")
    assert yoke_gone(inspection_from_data(data), rig, cause) is gone
    assert ("yoke-with-the-joint" in mending(cause).swaps(False, gone)) is gone
    if gone:
        assert "dress-the-seat" not in mending(cause).does(gone)


@pytest.mark.parametrize(
    ("kind", "used"),
    [
        (SwapCode, lambda m: m.swaps(strapped=True)),
        (DoCode, lambda m: m.do),
        (ProofCode, lambda m: m.prove),
        (AskCode, lambda m: m.asks),
    ],
)
def test_nothing_is_named_that_no_cause_asks_for(kind: object, used: object) -> None:
    assert {code for cause in CAUSES for code in used(mending(cause))} == {*get_args(kind)}  # type: ignore[operator]


def test_commands_have_the_rig_filled_in() -> None:
    of = Asking("my truck.toml", "pinion", radians(27.4))
    assert command("cures", of) == ("bindpoint", "cures", "my truck.toml")
    assert command("joint", of) == ("bindpoint", "joint", "my truck.toml", "pinion")
    assert command("relief", of)[-2:] == ("--relief", "29 deg")
    assert command("vibration", of)[-2:] == ("--at", "60 mph")
    assert command("vibration", Asking("a", "output", speed="45 mph"))[-1] == "45 mph"
    assert command("relief", Asking("a", "output"))[-1] == "30 deg"


def test_wetter_and_rougher_is_greased_sooner() -> None:
    for use in get_args(Use):
        dry, some, wet = (greasing(use, water) for water in get_args(Water))
        assert wet.miles < some.miles == dry.miles
        assert wet.months <= dry.months
        assert (dry.after_water, some.after_water, wet.after_water) == (False, True, True)
    assert greasing("rocks", "never").miles < greasing("street", "never").miles
    assert greasing(None, None) == greasing("trail", "now and then")
