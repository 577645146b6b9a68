"""Asking for the links that carry an axle: a track bar, then one link after another."""

from collections.abc import Iterator
from typing import Final

from viewer.interview.answers import Keys, Reader, words, yes
from viewer.interview.points import fore_aft, higher, sideways
from viewer.interview.question import Question, Said

LINKS_DONE: Final = "(links done)"
BAR: Final = "(track bar)"
DONE: Final = "done"


def links(said: Said) -> Iterator[Question]:
    """Ask for a track bar, and for links until there are no more."""
    yield Question(
        BAR,
        "Is there a track bar?",
        "The bar across the vehicle that holds the axle sideways.",
        _bar,
        default="no",
    )
    if said.get(BAR):
        yield from _ends("suspension.track_bar", "the track bar")
    place = 1
    while True:
        key = f"suspension.links[{place}]"
        yield Question(
            f"{key}.name",
            f"What is link {place} called?",
            f"Such as lower left, or lower for a pair; {DONE} when there are no more. One of a "
            "mirrored pair is enough.",
            _name(f"{key}.name"),
            beware="Four conditions hold an axle at a given height and roll: four links, or three "
            "and a track bar. A mirrored link counts twice.",
        )
        if said.get(LINKS_DONE):
            return
        yield from _ends(key, f"link {place}")
        yield Question(
            f"{key}.mirrored",
            "Is there the same one on the other side?",
            "Mirrored about the middle of the vehicle.",
            yes(f"{key}.mirrored"),
            default="no",
        )
        place += 1


def _bar(text: str) -> Keys:
    said = yes(BAR)(text)
    return {**said, "suspension.track_bar.name": "track bar"} if said else said


def _name(key: str) -> Reader:
    named = words(key)
    return lambda text: {LINKS_DONE: True} if text.lower() == DONE else named(text)


def _ends(key: str, name: str) -> Iterator[Question]:
    for end in ("chassis", "axle"):
        what = f"the {end} end of {name}"
        yield fore_aft(
            f"{key}.{end}[1]",
            f"How far ahead of or behind the axle's centre is {what}?",
            "The middle of its bush or ball, level, fore-aft: such as 33 in ahead.",
            None,
        )
        yield sideways(
            f"{key}.{end}[2]",
            f"How far to the left or right of the axle's middle is {what}?",
            "Such as 14 in left.",
        )
        yield higher(
            f"{key}.{end}[3]",
            f"How much higher or lower than the axle's centre is {what}?",
            "From the centre of the axle tube: such as 1 in higher.",
        )
