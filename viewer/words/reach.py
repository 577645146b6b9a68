"""Words for a pose that the axle's stops do not let it get to."""

from collections.abc import Callable, Sequence

from sim.travel.oversteps import Overstep, Way
from viewer.words.units import format_angle, format_fraction


def out_of_reach_words(beyond: Sequence[Overstep]) -> str:
    """Every limit that a pose lies beyond, as one sentence without its full stop."""
    return "; ".join(overstep_words(each) for each in beyond)


def overstep_words(each: Overstep) -> str:
    """One limit: "the right side would hang 11 1/4 in, its droop ends at 9 in"."""
    return _WORDS[each.way](each)


def _hangs(who: str) -> Callable[[Overstep], str]:
    def words(each: Overstep) -> str:
        asked, limit = _lengths(each)
        return f"{who} would hang {asked} down, droop ends at {limit}"

    return words


def _rises(who: str) -> Callable[[Overstep], str]:
    def words(each: Overstep) -> str:
        asked, limit = _lengths(each)
        return f"{who} would go {asked} up, bump ends at {limit}"

    return words


def _lengths(each: Overstep) -> tuple[str, str]:
    """Both distances; in decimals where a tape shows them alike."""
    asked, limit = format_fraction(each.asked), format_fraction(each.limit)
    if asked != limit:
        return asked, limit
    return f"{each.asked / 25.4:.3f} in", f"{each.limit / 25.4:.3f} in"


def _rolls(each: Overstep) -> str:
    return f"it would roll {format_angle(each.asked)}, {format_angle(each.limit)} is the most"


def _wraps(way: str) -> Callable[[Overstep], str]:
    def words(each: Overstep) -> str:
        asked, limit = format_angle(each.asked), format_angle(each.limit)
        return f"it would wrap {asked} nose {way}, {limit} is the most there"

    return words


_WORDS: dict[Way, Callable[[Overstep], str]] = {
    "droop": _hangs("the axle"),
    "left droop": _hangs("the left side"),
    "right droop": _hangs("the right side"),
    "bump": _rises("the axle"),
    "left bump": _rises("the left side"),
    "right bump": _rises("the right side"),
    "roll": _rolls,
    "nose up": _wraps("up"),
    "nose down": _wraps("down"),
}
