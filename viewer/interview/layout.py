"""Asking how the shaft is laid out: one piece or two, one cross or a double-Cardan head an end."""

from collections.abc import Iterator
from typing import Final

from sim.head.catalogue import head_kinds
from viewer.interview.answers import angle, choice, length, no, words, yes
from viewer.interview.points import point
from viewer.interview.question import Question, Said, assumed

SPECIAL: Final = "(layout)"
PIECES: Final = "(pieces)"


def layout(said: Said) -> Iterator[Question]:
    """Ask whether it is a plain shaft, and what it is otherwise."""
    yield Question(
        SPECIAL,
        "Is it a plain shaft: one piece, with one cross at either end?",
        "no: it has a carrier bearing in the middle, or a double-Cardan head, which is two crosses "
        "close together and often called a CV.",
        no(SPECIAL),
        beware="Count the crosses: two is a plain shaft, three is one with a double-Cardan head or "
        "one in two pieces.",
        default="yes",
    )
    if said.get(SPECIAL) is None:
        return
    yield Question(
        PIECES,
        "Is it in two pieces, with a carrier bearing?",
        "The bearing holds the end of the front section; the rear section hangs on the joint "
        "behind it. Both ends and the bearing are then asked for as coordinates.",
        yes(PIECES),
        default="no",
    )
    # A head ahead of a carrier bearing is refused.
    for end in ("pinion",) if said.get(PIECES) else ("output", "pinion"):
        key = f"shaft.{end}_end"
        yield Question(
            f"{key}.joint",
            f"Is the joint at the {end} single or double?",
            "single: one cross. double: a double-Cardan head, two crosses with a centre yoke. The "
            "joint centre of a head is the middle of its ball.",
            choice(f"{key}.joint", {"single": "single", "double": "double"}),
            default=assumed(f"{key}.joint", said),
        )
        if said.get(f"{key}.joint") == "double":
            yield Question(
                f"{key}.head",
                f"Which kind of head is at the {end}?",
                f"One of: {', '.join(head_kinds())}. Both are generic; put the dimensions of yours "
                "into the file.",
                words(f"{key}.head"),
                default=assumed(f"{key}.head", said),
            )


def by_coordinates(said: Said, way: str) -> bool:
    """Whether the joints are asked for as coordinates: chosen, or since it has two pieces."""
    return said.get(way) == "coordinates" or bool(said.get(PIECES))


def carrier(said: Said) -> Iterator[Question]:
    """Ask for the carrier bearing and the front section, where the shaft has two pieces."""
    if not said.get(PIECES):
        return
    yield from point("carrier.bearing", "the carrier bearing", said)
    key = "carrier.middle_joint_beyond"
    yield Question(
        key,
        "How far beyond the bearing is the centre of the middle joint?",
        "From the middle of the bearing to the middle of the cross behind it, along the front "
        "section: such as 3 1/2 in.",
        length(key),
        default=assumed(key, said),
    )
    yield Question(
        "carrier.bearing_stub",
        "How long is the stub between the front tube and the bearing?",
        "From the end of the front section's tube to the middle of the bearing: such as 4 in. For "
        "the cut length of that tube; only if known.",
        length("carrier.bearing_stub"),
        default="not known",
    )
    key = "carrier.phase"
    yield Question(
        key,
        "How far are the ears at the middle joint turned against those at the output?",
        "On the front section: 0 deg when the ears at both its ends are in line.",
        angle(key),
        default=assumed(key, said),
    )


def middle(said: Said) -> Iterator[Question]:
    """Ask for the parts of the middle joint, where there is one."""
    if not said.get(PIECES):
        return
    for part, asks in (
        ("cross", "Which size is the cross of the middle joint?"),
        ("front_yoke", "Which kind of yoke ends the front section?"),
        ("shaft_yoke", "Which kind of yoke is on the rear section at the middle joint?"),
    ):
        key = f"carrier.middle.{part}"
        yield Question(
            key,
            asks,
            "A size or kind as at the ends of the shaft.",
            words(key),
            default=assumed(key, said),
        )
