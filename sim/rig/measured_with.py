"""The tools that a rig was measured with, and how far off each of them may be."""

from typing import Annotated, Final

from sim.table.fields import Name, OfAngle, OfLength, several
from sim.table.form import field, maybe
from sim.table.kinds import Range
from sim.table.part import Part
from sim.units import Angle, Length

_OFF_LENGTH = Annotated[Length, OfLength(range=Range(0.0, 1000.0, "mm", above=True))]
_OFF_ANGLE = Annotated[Angle, OfAngle(range=Range(0.0, 45.0, "deg", above=True, below=True))]
_TOOLS: Final = several("one [[measured_with.tools]] table for each tool")


class ToolTable(Part):
    """A tool of one's own, or one of the list with another error."""

    name: Name = field("What the tool is called.", "shop's long level")
    length: _OFF_LENGTH | None = maybe(
        "How far off a length read with it may be: 95 of 100 are no farther off.", "1/16 in"
    )
    angle: _OFF_ANGLE | None = maybe(
        "How far off an angle read with it may be: 95 of 100 are no farther off.", "1/4 deg"
    )


class MeasuredWith(Part):
    """With what the truck was measured, where a value does not say it itself."""

    lengths: Name | None = maybe(
        "The tool that lengths, distances and points were read with.",
        "tape",
        name="lengths",
        datum="tape, folding rule, steel rule, laser, plumb bob, eye; or a tool of your own from "
        "the file.",
        otherwise="a tape",
    )
    angles: Name | None = maybe(
        "The tool that slopes and angles were read with.",
        "digital level",
        name="angles",
        datum="angle finder, dial protractor, spirit protractor, digital level, phone, eye; or a "
        "tool of your own from the file.",
        otherwise="an angle finder",
    )
    parts: Name | None = maybe(
        "The tool that dimensions of yokes and crosses were read with.",
        "caliper",
        name="dimensions of parts",
        datum="caliper, steel rule; or a tool of your own from the file.",
        otherwise="a caliper",
    )
    tools: Annotated[tuple[ToolTable, ...], _TOOLS] = field(
        default=(), name="Tools of your own", entry="Tool"
    )
