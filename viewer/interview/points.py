"""Asking for a point: fore-aft, sideways and height from the axle's centre, one at a time."""

from collections.abc import Iterator
from typing import Final, Literal

from sim.rig.keys import form_at
from viewer.interview.answers import coordinate
from viewer.interview.question import Question, Said

Style = Literal["joint", "link", "spring"]

_WORDS: Final = (
    (("ahead", "forward"), ("behind", "rearward")),
    (("left",), ("right",)),
    (("higher", "up"), ("lower", "down")),
)
"""Words for both senses of a coordinate, the positive ones first."""

_ASKS: Final[dict[Style, tuple[tuple[str, str], ...]]] = {
    "joint": (
        (
            "How far does {name} lie {side} the axle's center?",
            "Level, fore-aft, between plumb lines from the center of the axle tube and from "
            "{name}'s center: such as 47 in.",
        ),
        (
            "How far to the left or right is {name}?",
            "From the middle of the axle, to the left or right of the vehicle: such as 2 in right.",
        ),
        (
            "How much higher or lower than the axle's center is {name}?",
            "From the center of the axle tube: such as 9 in higher.",
        ),
    ),
    "link": (
        (
            "How far ahead of or behind the axle's center is {name}?",
            "The middle of its bushing or ball, level, fore-aft: such as 33 in ahead.",
        ),
        (
            "How far to the left or right of the axle's middle is {name}?",
            "Such as 14 in left.",
        ),
        (
            "How much higher or lower than the axle's center is {name}?",
            "From the center of the axle tube: such as 1 in higher.",
        ),
    ),
    "spring": (
        (
            "How far ahead of or behind the axle's center is {name} of the left spring?",
            "{datum} Level, fore-aft: such as 24 in ahead.",
        ),
        (
            "How far to the left of the axle's middle is {name} of the left spring?",
            "Sideways: such as 20 in.",
        ),
        (
            "How much higher or lower than the axle's center is {name} of the left spring?",
            "Such as 4 in higher.",
        ),
    ),
}
"""Question and datum of each coordinate, for a joint of the shaft and for what holds the axle."""


def point(key: str, said: Said, style: Style = "joint", name: str = "") -> Iterator[Question]:
    """Ask for a point, which is called as its key says, of what is called `name`.

    A joint lies ahead of a rear axle's centre and behind a front axle's, so its side is not asked;
    nor is that of a left spring.
    """
    front = said.get("axle.position") == "front"
    known = {"joint": (-1.0 if front else 1.0, None, None), "spring": (None, 1.0, None)}
    senses: tuple[float | None, ...] = known.get(style, (None, None, None))
    form = form_at(key)
    called = form.called.format(name=name)
    side = "behind" if front else "ahead of"
    for place, ((asks, means), words, sense) in enumerate(
        zip(_ASKS[style], _WORDS, senses, strict=True), start=1
    ):
        yield Question(
            f"{key}[{place}]",
            asks.format(name=called, side=side),
            means.format(name=called, datum=form.datum),
            coordinate(f"{key}[{place}]", *words, sense),
        )
