"""Words for a pose that the axle's stops do not let it get to."""

from collections.abc import Mapping, Sequence
from typing import Final

from sim.travel.oversteps import ANGLES, Overstep, Way
from viewer.words.units import format_angle, format_fraction


def out_of_reach_words(beyond: Sequence[Overstep]) -> str:
    """Every limit that a pose lies beyond, as one sentence without its full stop."""
    return "; ".join(overstep_words(each) for each in beyond)


def overstep_words(each: Overstep) -> str:
    """One limit: "the right side would hang 11 1/4 in, its droop ends at 9 in"."""
    show = format_angle if each.way in ANGLES else format_fraction
    asked, limit = show(each.asked), show(each.limit)
    if asked == limit and each.way not in ANGLES:  # a tape shows them alike
        asked, limit = f"{each.asked / 25.4:.3f} in", f"{each.limit / 25.4:.3f} in"
    return _WORDS[each.way].format(asked=asked, limit=limit)


_WORDS: Final[Mapping[Way, str]] = {
    "droop": "the axle would hang {asked} down, droop ends at {limit}",
    "left droop": "the left side would hang {asked} down, droop ends at {limit}",
    "right droop": "the right side would hang {asked} down, droop ends at {limit}",
    "bump": "the axle would go {asked} up, bump ends at {limit}",
    "left bump": "the left side would go {asked} up, bump ends at {limit}",
    "right bump": "the right side would go {asked} up, bump ends at {limit}",
    "roll": "it would roll {asked}, {limit} is the most",
    "nose up": "it would wrap {asked} nose up, {limit} is the most there",
    "nose down": "it would wrap {asked} nose down, {limit} is the most there",
}
