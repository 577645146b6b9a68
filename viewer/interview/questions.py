"""What is asked, in which order, in the words of the trade."""

from collections.abc import Collection, Iterator
from typing import Final

from viewer.interview.answers import choice, length, spoken, words
from viewer.interview.driving import drive
from viewer.interview.layout import PIECES, by_coordinates, carrier, layout
from viewer.interview.moving import suspension, travel
from viewer.interview.parts import parts
from viewer.interview.points import point
from viewer.interview.question import Question, Said, assumed
from viewer.interview.taping import taped_length

WAY: Final = "(way)"


def next_question(said: Said, answered: Collection[str]) -> Question | None:
    """The first question that is not answered yet, or None when all are."""
    return next((each for each in questions(said) if each.name not in answered), None)


def questions(said: Said) -> Iterator[Question]:
    """Every question in order; later ones depend on what was said before."""
    yield Question(
        "name", "What is the rig called?", "Any name, for your own files.", words("name"),
        default=assumed("name", said),
    )  # fmt: skip
    yield Question(
        "note", "Who measured it, when, and in which state is the vehicle?",
        "Kept in the file, so that it can be measured again when the springs have settled.",
        words("note"), default="nothing",
    )  # fmt: skip
    yield Question(
        "axle.position", "Is it the rear or the front axle?",
        "Which axle this shaft drives.",
        choice("axle.position", {"rear": "rear", "front": "front"}),
        default="rear",
    )  # fmt: skip
    yield from layout(said)
    if not said.get(PIECES):
        yield _way()
    yield from _output(said)
    yield from _pinion(said)
    yield from carrier(said)
    if said.get("axle.position") == "front":
        yield from _front()
    yield from travel(said)
    yield from suspension(said)
    yield from parts(said)
    yield from drive(said)


def _way() -> Question:
    return Question(
        WAY, "Do you have the shaft's length and slopes, or coordinates of the joints?",
        "length: a tape along the shaft and an angle finder, a phone call's worth of numbers. "
        "coordinates: forward, sideways and height of both joints from the axle's centre, by "
        "plumb bob and tape.",
        choice(WAY, {"length": "length", "coordinates": "coordinates"}), default="length",
    )  # fmt: skip


def _output(said: Said) -> Iterator[Question]:
    yield Question(
        "output.points_down", "How does the output point, looking toward the axle?",
        "The slope of the output shaft against level, on a machined face or on the output flange: "
        "such as 3 deg down. Down means lower toward the axle.",
        spoken({"down": "output.points_down", "up": "output.points_up"}),
        beware="Not on a cast or sloped face, and not from the other side of the vehicle without "
        "turning up and down. A floor that is not level tilts every reading.",
    )  # fmt: skip
    yield Question(
        "output.points_left", "Does the output point to a side, looking toward the axle?",
        "Seen from above: such as 1 deg right of the vehicle. Most point straight.",
        spoken({"left": "output.points_left", "right": "output.points_right"}), default="straight",
    )  # fmt: skip
    if by_coordinates(said, WAY):
        yield from point("output.joint", "the output joint", said)
    else:
        yield from _ride_height(said)


def _ride_height(said: Said) -> Iterator[Question]:
    yield from taped_length(said)
    yield Question(
        "ride_height.shaft_points_down", "How does the shaft point, looking toward the axle?",
        "The slope of the tube against level, such as 14 deg down; or the height difference of the "
        "joint centres, such as 9 in lower when the pinion joint sits 9 in lower.",
        spoken(
            {"down": "ride_height.shaft_points_down", "up": "ride_height.shaft_points_up"},
            {"lower": "ride_height.pinion_lower", "higher": "ride_height.pinion_higher"},
        ),
        beware="On a clean part of the tube, away from weld and weights.",
    )  # fmt: skip
    yield Question(
        "ride_height.shaft_points_left", "Is the pinion joint off to a side of the output joint?",
        "Side offset, seen from above: such as 2 in right of the vehicle, or as a slope, 3 deg "
        "right.",
        spoken(
            {"left": "ride_height.shaft_points_left", "right": "ride_height.shaft_points_right"},
            {"left": "ride_height.pinion_left", "right": "ride_height.pinion_right"},
        ),
        beware="A side offset that is left out makes the true bend look smaller than it is.",
        default="none",
    )  # fmt: skip


def _front() -> Iterator[Question]:
    yield Question(
        "axle.caster", "What caster does the axle have at ride height?",
        "Positive with the top of the steering axis rearward: such as 5 deg positive. Raising the "
        "pinion takes as many degrees of it.",
        spoken({"positive": "axle.caster", "negative": "axle.negative_caster"}),
        default="not known",
    )  # fmt: skip
    yield Question(
        "axle.hubs", "Which hubs does it have?",
        "full-time: the shaft turns whenever the vehicle rolls. unlock: it stands still on the "
        "road.",
        choice("axle.hubs", {"full-time": "full-time", "unlock": "unlock"}), default="not known",
    )  # fmt: skip


def _pinion(said: Said) -> Iterator[Question]:
    yield Question(
        "axle.points_up", "How does the pinion point, looking from the axle to the output?",
        "Against level (the ground), not against the shaft: such as 1 deg up when its nose is "
        "higher than its tail.",
        spoken({"up": "axle.points_up", "down": "axle.points_down"}),
        beware="Pinion angle is quoted both ways, to the ground and to the shaft; here it is to "
        "the ground. On a machined face, not on the cast housing.",
    )  # fmt: skip
    yield Question(
        "axle.points_left", "Does the pinion point to a side?",
        "Seen from above, from the axle to the output: such as 1 deg left. Most point straight.",
        spoken({"left": "axle.points_left", "right": "axle.points_right"}), default="straight",
    )  # fmt: skip
    if by_coordinates(said, WAY):
        yield from point("axle.pinion_joint", "the pinion joint", said)
    else:
        yield Question(
            "axle.snout", "How long is the snout?",
            "From the centre of the axle tube to the pinion joint's centre, along the pinion.",
            length("axle.snout"), default=assumed("axle.snout", said),
        )  # fmt: skip
