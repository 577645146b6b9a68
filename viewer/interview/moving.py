"""Asking how the axle moves: its travel, and what carries it."""

from collections.abc import Iterator
from typing import assert_never

from sim.suspension import KINDS, Kind
from sim.suspension.measured.table import FEWEST
from viewer.interview.answers import angle, choice, height, length, share, spoken, stops
from viewer.interview.linking import DONE, links
from viewer.interview.points import fore_aft, higher, sideways
from viewer.interview.question import Question, Said, assumed
from viewer.interview.wrapping import wrap


def travel(said: Said) -> Iterator[Question]:
    """Ask how far the axle goes from ride height."""
    yield Question(
        "travel.bump",
        "How far does the axle go up from ride height?",
        "Bump, to the stops, both wheels together: such as 4 in. At the axle, not at the wheel "
        "arch.",
        length("travel.bump"),
    )
    yield Question(
        "travel.droop",
        "How far does the axle hang down from ride height?",
        "Droop, on its straps or shocks, both wheels together: such as 8 in.",
        length("travel.droop"),
        beware="At the straps or shocks, not at the wheels: those stand farther out, so one alone "
        "drops farther when crossed up; that is the roll, asked next.",
    )
    yield Question(
        "travel.roll",
        "How far does the axle roll each way, crossed up?",
        "One wheel up and the other down: the angle of the axle tube against level.",
        angle("travel.roll"),
        default=assumed("travel.roll", said),
    )
    yield Question(
        "travel.stops_apart",
        "How far apart, left to right, do the axle's stops or straps act?",
        "Where bump stops, shocks or straps meet the axle, such as 32 in. With both sides on their "
        "straps the axle cannot roll; with one side down it rolls no farther that way. A single "
        "strap in the middle of the axle leaves the roll free: then say 32 in, middle strap.",
        stops("travel.stops_apart", "travel.droop_strap"),
        beware="Where stops and straps sit at different distances, say the smaller one: it leaves "
        "more roll, which is the careful side.",
        default=assumed("travel.stops_apart", said),
    )
    yield from wrap(said)
    if any(said.get(key) for key in ("travel.nose_up", "travel.nose_down", "wrap.kind")):
        yield Question(
            "travel.wrap_at_droop",
            "How much of that wrap is left with the wheels hanging?",
            "Torque needs load on the tyres, and wheels that hang have little: such as 40 %. From "
            "ride height down to full droop the wrap falls evenly to that.",
            share("travel.wrap_at_droop"),
            default=assumed("travel.wrap_at_droop", said),
        )


def suspension(said: Said) -> Iterator[Question]:
    """Ask what carries the axle."""
    yield Question(
        "suspension.kind",
        "What is known of the suspension?",
        " ".join(f"{kind}: {_known(kind)}" for kind in KINDS),
        choice("suspension.kind", {kind: kind for kind in KINDS}),
        beware="Wishbones, radius arms and a torque arm are not asked for: take what is known "
        "otherwise now, and type them into the file as docs/rig-file.md shows.",
        default="vertical",
    )
    kind = said.get("suspension.kind")
    if kind in KINDS:
        yield from _asked(kind, said)


def _known(kind: Kind) -> str:
    """What is known of the suspension, for each kind that it may be."""
    match kind:
        case "vertical":
            return "nothing, the axle is taken to go straight up and down."
        case "measured":
            return "shaft length and pinion angle read at three or more heights of the axle."
        case "leaf":
            return "where the left leaf spring's fixed eye and seat are."
        case "links":
            return "where both ends of every link are."
        case _:
            assert_never(kind)


def _asked(kind: Kind, said: Said) -> Iterator[Question]:
    """The questions of each kind."""
    match kind:
        case "vertical":
            return
        case "measured":
            yield from _readings(said)
        case "leaf":
            yield from _leaf()
        case "links":
            yield from links(said)
        case _:
            assert_never(kind)


def _readings(said: Said) -> Iterator[Question]:
    place = 1
    while True:
        key = f"suspension.readings[{place}]"
        enough = place > FEWEST
        yield Question(
            f"{key}.at",
            f"Reading {place}: at which height of the axle?",
            "Such as 4 in bump, ride, 8 in droop; level, without torque."
            + (f" {DONE} when there are no more." if enough else f" {FEWEST} at the least."),
            height(f"{key}.at", DONE if enough else ""),
        )
        if said.get(f"{key}.at") in (None, DONE):
            return
        yield Question(
            f"{key}.length",
            "How long is the shaft there, joint centre to joint centre?",
            "Along the shaft, as at ride height.",
            length(f"{key}.length"),
        )
        yield Question(
            f"{key}.points_up",
            "How does the pinion point there, against level?",
            "Such as 2 deg up.",
            spoken({"up": f"{key}.points_up", "down": f"{key}.points_down"}),
        )
        place += 1


def _leaf() -> Iterator[Question]:
    for key, name, means in (
        (
            "suspension.fixed_eye",
            "the fixed eye",
            "The eye that turns on the frame, not in the shackle.",
        ),
        (
            "suspension.seat",
            "the spring seat",
            "Where the spring is clamped to the axle, at the main leaf.",
        ),
    ):
        yield fore_aft(
            f"{key}[1]",
            f"How far ahead of or behind the axle's centre is {name} of the left spring?",
            f"{means} Level, fore-aft: such as 24 in ahead.",
            None,
        )
        yield sideways(
            f"{key}[2]",
            f"How far to the left of the axle's middle is {name} of the left spring?",
            "Sideways: such as 20 in.",
            1.0,
        )
        yield higher(
            f"{key}[3]",
            f"How much higher or lower than the axle's centre is {name} of the left spring?",
            "Such as 4 in higher.",
        )
