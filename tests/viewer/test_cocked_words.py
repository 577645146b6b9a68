"""How a cap came to sit crooked, and what follows, in words of a shop."""

import pytest

from sim.cocked import Tip
from sim.cocked.seat import (
    bar_through,
    edge,
    gouge,
    loose_strap,
    play,
    skewed,
    spread,
    stated_tip,
)
from sim.remark import Remark
from viewer.words.remarks import said


@pytest.mark.parametrize(
    ("tip", "words"),
    [
        (spread(50.508, 50.0, 42.0), ("spread", "0.020 in", "wider at the tips", "0.35 deg")),
        (spread(49.492, 50.0, 42.0), ("squeezed", "narrower", "0.35 deg")),
        (spread(50.005, 50.0, 42.0), ("as wide at the tips as at the root",)),
        (skewed(0.508, 64.8), ("0.020 in", "off the bar", "0.45 deg", "the way drive pushes")),
        (skewed(0.03, 64.8, at_least=True), ("does not go through", "0.03 deg at least")),
        (bar_through(64.8), ("goes through both bores", "0.03 deg")),
        (gouge(0.254, 15.0), ("gouge of 0.010 in", "0.97 deg", "toward the cross")),
        (edge(0.127, 15.0), ("stands in by 0.005 in", "0.49 deg", "the ear's tip")),
        (play(0.127, 0.0, 15.0), ("0.005 in", "rock by 0.49 deg", "does not tip it")),
        (play(-0.01, -0.02, 15.0), ("tight",)),
        (loose_strap(15.0), ("loose strap", "0.010 in")),
        (stated_tip(0.00349), ("told to sit 0.20 deg crooked", "the way the load pushes")),
    ],
)
def test_each_thing_that_tips_a_cap_is_told_with_its_numbers(tip: Tip, words: tuple[str, ...]):
    told = said(tip.why)
    for word in words:
        assert word in told
    assert "-" not in told.replace("two-piece", "")


def test_what_follows_for_the_next_joint():
    def told(both: bool, alone: bool) -> str:
        numbers = {"tilt": 6e-3, "times": 11.2, "life": 0.031}
        return said(Remark("why-cocked", cap="shaft_a", both=both, alone=alone, **numbers))

    assert "next joint in that yoke, while the other axis stays good" in told(True, True)
    assert told(False, False).endswith("so will the next joint in that seat")
    assert "it lasts 3 % as long" in told(True, False)
