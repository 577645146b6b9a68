"""Asking for the parts of the shaft: joints, slip and tube."""

from collections.abc import Iterator

from sim.parts.catalogue import cross_sizes, yoke_kinds
from viewer.interview.answers import choice, length, words
from viewer.interview.layout import PIECES, middle
from viewer.interview.question import Question, Said, assumed


def parts(said: Said) -> Iterator[Question]:
    """Ask for the slip, the joint at each end, and the tube."""
    yield from _slip(said)
    yield from _ends(said)
    yield from middle(said)
    for key, asks in (
        ("shaft.tube.outside", "What is the tube's outside diameter?"),
        ("shaft.tube.wall", "How thick is the tube's wall?"),
    ):
        yield Question(
            key, asks, "Such as 3 in x 0.083 in.", length(key), default=assumed(key, said)
        )


def _slip(said: Said) -> Iterator[Question]:
    if not said.get(PIECES):  # the slip of a two-piece shaft is behind its bearing
        yield Question(
            "shaft.slip.at",
            "Where is the slip?",
            "shaft: a slip joint within the shaft. output: a slip yoke, sliding on the spline of "
            "the output.",
            choice("shaft.slip.at", {"shaft": "shaft", "output": "output"}),
            default=assumed("shaft.slip.at", said),
        )
    for key, asks, means in (
        (
            "shaft.slip.closes",
            "How far does the slip still close from ride height, before it bottoms?",
            "Push it home and measure how much shorter it gets.",
        ),
        (
            "shaft.slip.opens",
            "How far does the slip still open from ride height, with enough spline engaged?",
            "Enough is about 1 1/2 to 2 spline diameters (from memory).",
        ),
    ):
        yield Question(key, asks, means, length(key), default=assumed(key, said))
    yield Question(
        "shaft.slip.comes_apart",
        "How far does it open until the splines part?",
        "From ride height; only if known.",
        length("shaft.slip.comes_apart"),
        default="not known",
    )


def _ends(said: Said) -> Iterator[Question]:
    for end, own in (("output", "output_yoke"), ("pinion", "pinion_yoke")):
        key = f"shaft.{end}_end"
        yield Question(
            f"{key}.cross",
            f"Which size is the cross at the {end} end?",
            f"Cap diameter x span over the caps in mm, or its trade number: {_crosses()}.",
            words(f"{key}.cross"),
            beware="Measure the caps, not over the clips, and not across worn caps.",
            default=assumed(f"{key}.cross", said),
        )
        for part, what in ((own, f"on the {end}"), ("shaft_yoke", "on the shaft at that end")):
            yield Question(
                f"{key}.{part}",
                f"Which kind of yoke is {what}?",
                f"One of: {', '.join(yoke_kinds())}. Deep-throat is made for high angles.",
                words(f"{key}.{part}"),
                default=assumed(f"{key}.{part}", said),
            )


def _crosses() -> str:
    return ", ".join(f"{size.name} ({', '.join(size.aliases)})" for size in cross_sizes())
