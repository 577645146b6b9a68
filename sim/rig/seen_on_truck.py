"""What was seen on the truck itself, on the lift or after a drive, to be held against the rig."""

from collections.abc import Iterator, Mapping
from typing import Any, Final, Literal

from sim.remark import Remark
from sim.suspension.measured.reading import HeightText
from sim.table.day import Day
from sim.table.fields import Distance, Name, Swing
from sim.table.form import maybe
from sim.table.part import Either, OneOf, Part
from sim.table.problems import NOTHING, Problem, as_typed

PAINT: Final = ("paint_ran", "paint_ran_in")
"""Keys of what is left of a whole drive, at no height of its own."""


class SeenOnTruck(Part):
    """One thing seen on the truck: whether the shaft touched, or where the slip stood."""

    seen = OneOf(
        ("turned", "slip_opened", "slip_closed", *PAINT),
        'turned, slip_opened, slip_closed, paint_ran or paint_ran_in, such as turned = "touches"',
    )
    rolled = Either(("left_up", "right_up"), neither=0.0)
    """Roll, rad, positive with the left wheel up."""
    wrapped = Either(("nose_up", "nose_down"), neither=0.0)
    """Wrap, rad, positive with the nose of the pinion up."""

    at: HeightText | None = maybe(
        "Height of the axle at which it was seen.",
        name="height of the axle",
        asks="At which height of the axle was that?",
        datum="Against ride height, at the axle and not at the wheel arch: such as 8 in droop.",
    )
    left_up: Swing | None = maybe(
        "How far the axle was rolled, its left wheel up: the angle of its tube against level.",
        "5 deg",
        name="rolled, left wheel up",
        asks="How far was the axle rolled, which wheel up?",
    )
    right_up: Swing | None = maybe(
        "How far the axle was rolled, its right wheel up: the angle of its tube against level.",
        "5 deg",
        name="rolled, right wheel up",
    )
    nose_up: Swing | None = maybe(
        "How far the nose of the pinion was wrapped up against no torque.",
        "3 deg",
        name="wrapped, nose up",
    )
    nose_down: Swing | None = maybe(
        "How far the nose of the pinion was wrapped down against no torque.",
        "3 deg",
        name="wrapped, nose down",
    )
    joint: Literal["output", "middle", "pinion"] | None = maybe(
        "Which joint touched, or was free; left out, whichever touches first.",
        asks="Which joint was it?",
        otherwise="whichever touches first",
    )
    turned: Literal["touches", "free"] | None = maybe(
        "Turned by hand over a whole turn, what the shaft did: touches, or free.",
        name="turned by hand",
        datum="Over a whole turn, by hand, wheels off the ground and out of gear.",
        beware="Never by the engine. A dry or notched bearing catches too: look for bright metal "
        "where the yokes meet.",
    )
    slip_opened: Distance | None = maybe(
        "How far the slip stood open there, over where it stands at ride height.",
        "1 1/4 in",
        name="slip opened",
        asks="How far open did the slip stand, more than at ride height?",
        datum="From a mark on the stub at ride height to where that mark stands now.",
        beware="Not over all that shows of the stub: only what is more than at ride height.",
    )
    slip_closed: Distance | None = maybe(
        "How far the slip stood closed there, over where it stands at ride height.",
        "1/2 in",
        name="slip closed",
        asks="How far closed did the slip stand, more than at ride height?",
        datum="From a mark on the stub at ride height to where that mark stands now.",
    )
    paint_ran: Distance | None = maybe(
        "How far the slip opened at most in a drive, by paint or grease on the stub.",
        "2 in",
        name="paint: opened at most",
        asks="How far did the paint say the slip ran out?",
        datum="From where the slip stands at ride height to the end of what was wiped off.",
        beware="The drive may not have used all of the travel: it says how far the slip ran at "
        "the least.",
    )
    paint_ran_in: Distance | None = maybe(
        "How far the slip closed at most in a drive, by paint or grease on the stub.",
        "3/4 in",
        name="paint: closed at most",
        asks="How far did the paint say the slip ran in?",
        datum="From where the slip stands at ride height to the end of what was wiped off.",
    )
    tool: Name | None = maybe(
        "What it was read with, unless its error is typed behind the value.",
        "tape",
        asks="What was it read with?",
    )
    who: Name | None = maybe("Who saw it.", "counter", asks="Who saw it?")
    when: Day | None = maybe(
        "When it was seen: year, month, day.", "2026-04-11", asks="On which day?"
    )
    note: Name | None = maybe("Anything worth knowing of it.", "on the lift, wheels hanging")

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell of a height or joint that is missing or says nothing, besides what every table does.

        What paint shows is of a whole drive, and where the slip stands is of no joint.
        """
        yield from super().key_problems(table, path)
        dot = f"{path}." if path else ""
        said = next((key for key in cls.seen.keys if table.get(key) is not None), None)
        if said in PAINT:
            for key in ("at", *cls.rolled.keys, *cls.wrapped.keys):
                if table.get(key) is not None:
                    came = as_typed(getattr(table[key], "typed", table[key]))
                    why = Remark("whole-drive", what=said)
                    yield Problem(f"{dot}{key}", came, Remark("no-pose"), why)
        elif said is not None and table.get("at") is None:
            given = Remark("given", what=said)
            yield Problem(f"{dot}at", NOTHING, '"ride", or a height such as "8 in droop"', given)
        if said not in (None, "turned") and table.get("joint") is not None:
            why = Remark("of-the-slip", what=said)
            yield Problem(f"{dot}joint", as_typed(table["joint"]), Remark("no-joint"), why)

    @property
    def what(self) -> str:
        """Which of the keys says what was seen."""
        return next(key for key in type(self).seen.keys if getattr(self, key) is not None)
