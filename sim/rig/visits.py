"""A truck as it stood on one day: the same few readings at every visit, to be held side by side."""

from collections.abc import Iterator, Mapping
from typing import Any, Final, Literal

from sim.remark import Remark
from sim.table.day import Day
from sim.table.fields import Distance, Name, Size, Slope
from sim.table.form import field, maybe
from sim.table.part import Either, Part
from sim.table.problems import NOTHING, Problem

State = Literal["ride", "bump", "droop", "crossed up", "loaded"]
"""How the truck stood when it was read."""

READ: Final = (
    "length",
    "shaft_points_down",
    "shaft_points_up",
    "pinion_points_up",
    "pinion_points_down",
    "output_points_down",
    "output_points_up",
    "frame_to_axle",
    "slip_shows",
)
"""Keys of what can be read at a visit."""


class Visit(Part):
    """One truck read on one day, in one state."""

    shaft_down = Either(("shaft_points_down", "shaft_points_up"), neither=None)
    """Slope of the shaft, rad, positive down toward the axle."""
    pinion_up = Either(("pinion_points_up", "pinion_points_down"), neither=None)
    """Slope of the pinion, rad, positive up toward the output."""
    output_down = Either(("output_points_down", "output_points_up"), neither=None)
    """Slope of the output, rad, positive down toward the axle."""

    when: Day = field(
        "When it was read: year, month, day.", "2026-04-11", asks="On which day was it read?"
    )
    state: State = field(
        "How it stood: ride, at ride height on its wheels; bump, on its stops; droop, axle "
        "hanging; crossed up, one wheel up and the other down; loaded, as it is used.",
        name="state",
        asks="How did the truck stand?",
    )
    who: Name | None = maybe("Who read it.", "counter", asks="Who read it?")
    tool: Name | None = maybe(
        "What it was read with, unless its error is typed behind a value.",
        "digital level",
        asks="What was it read with?",
    )
    note: Name | None = maybe("Anything worth knowing of it.", "full tank, no load")
    length: Size | None = maybe(
        "Joint center to joint center, along the shaft.",
        "36 5/16 in",
        name="joint to joint",
        asks="How long was the shaft, joint center to joint center?",
        beware="Between the same two places at every visit.",
    )
    shaft_points_down: Slope | None = maybe(
        "How far the shaft points down, seen from the output toward the axle.",
        "14 deg",
        asks="How did the shaft point, seen toward the axle?",
    )
    shaft_points_up: Slope | None = maybe(
        "How far the shaft points up, seen from the output toward the axle."
    )
    pinion_points_up: Slope | None = maybe(
        "How far the pinion points up from level, seen toward the output.",
        "1 deg",
        asks="How did the pinion point, seen toward the output?",
        beware="On the same machined face at every visit.",
    )
    pinion_points_down: Slope | None = maybe(
        "How far the pinion points down from level, seen toward the output."
    )
    output_points_down: Slope | None = maybe(
        "How far the output shaft points down, seen toward the axle.",
        "3 deg",
        asks="How did the output point, seen toward the axle?",
    )
    output_points_up: Slope | None = maybe(
        "How far the output shaft points up, seen toward the axle."
    )
    frame_to_axle: Distance | None = maybe(
        "Height of the frame over the axle tube, between two places that are marked.",
        "7 1/2 in",
        name="frame to axle",
        asks="How high was the frame over the axle tube?",
        datum="Straight up from the top of the axle tube to the underside of the frame: such as "
        "7 1/2 in.",
        beware="At the same two places at every visit, with the same load and fuel.",
    )
    slip_shows: Distance | None = maybe(
        "How much of the slip's stub shows, from its seal or dust cap to the shoulder.",
        "2 1/4 in",
        name="slip shows",
        asks="How much of the slip's stub showed?",
    )

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell of a visit at which nothing was read, besides what every table tells."""
        yield from super().key_problems(table, path)
        if all(table.get(key) is None for key in READ):
            dot = f"{path}." if path else ""
            expected = 'one reading at the least, such as frame_to_axle = "7 1/2 in"'
            yield Problem(f"{dot}frame_to_axle", NOTHING, expected, Remark("nothing-read"))
