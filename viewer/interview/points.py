"""Asking for a point: fore-aft, sideways and height from the axle's centre, one at a time."""

from collections.abc import Iterator

from viewer.interview.answers import coordinate
from viewer.interview.question import Question, Said


def point(key: str, name: str, said: Said) -> Iterator[Question]:
    """Ask for a joint, which lies ahead of a rear axle's centre and behind a front axle's."""
    front = said.get("axle.position") == "front"
    side = "behind" if front else "ahead of"
    yield fore_aft(
        f"{key}[1]",
        f"How far does {name} lie {side} the axle's centre?",
        f"Level, fore-aft, between plumb lines from the centre of the axle tube and from {name}'s "
        "centre: such as 47 in.",
        -1.0 if front else 1.0,
    )
    yield sideways(
        f"{key}[2]",
        f"How far to the left or right is {name}?",
        "From the middle of the axle, to the left or right of the vehicle: such as 2 in right.",
    )
    yield higher(
        f"{key}[3]",
        f"How much higher or lower than the axle's centre is {name}?",
        "From the centre of the axle tube: such as 9 in higher.",
    )


def fore_aft(key: str, asks: str, means: str, sense: float | None) -> Question:
    """Ask for a fore-aft distance; `sense` is its sign when it has no word."""
    return Question(
        key, asks, means, coordinate(key, ("ahead", "forward"), ("behind", "rearward"), sense)
    )


def sideways(key: str, asks: str, means: str, sense: float | None = None) -> Question:
    """Ask for a distance to the left or right of the vehicle."""
    return Question(key, asks, means, coordinate(key, ("left",), ("right",), sense))


def higher(key: str, asks: str, means: str) -> Question:
    """Ask for a height difference."""
    return Question(key, asks, means, coordinate(key, ("higher", "up"), ("lower", "down"), None))
