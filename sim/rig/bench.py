"""What was read on the joint itself: on the bench, hand-turned on the vehicle, or in its papers."""

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Final, Literal

from sim.remark import Remark
from sim.suspension.measured.reading import HeightText
from sim.table.day import Day
from sim.table.fields import Bend, Name, Turn, several
from sim.table.form import field, maybe
from sim.table.part import OneOf, Part
from sim.table.problems import NOTHING, Problem, as_typed

Clamped = Literal["shaft yoke", "output yoke", "pinion yoke", "front yoke"]
"""The yoke in the vise, by the name of its key with a space."""

Ears = Literal["in line", "between", "across", "any"]
"""How the clamped yoke's ears stand to the plane of the bend: both in it, at 45 deg, across it, or
turned to where it touches soonest."""

_ON_THE_BENCH: Final = ("touches_at", "clear_to")


class BenchReading(Part):
    """One reading of the joint itself, from which its own yokes are worked out."""

    reads = OneOf(
        (*_ON_THE_BENCH, "catches_at", "maker_says"),
        'touches_at, clear_to, catches_at or maker_says, such as touches_at = "24 1/2 deg"',
    )
    how_turned = OneOf(("ears", "turned"))

    clamped: Clamped | None = maybe(
        "The yoke that is held while the other one is bent.",
        otherwise="shaft yoke",
        datum="The yoke in the vise; the other one is bent until metal meets metal.",
    )
    ears: Ears | None = maybe(
        "How the ears of the clamped yoke stand to the plane of the bend. in line: both ears in "
        "that plane. across: one ear on either side of it. between: halfway, at 45 deg. any: at "
        "the lowest bend of a whole turn.",
        datum="In line: the free yoke swings toward one of the clamped yoke's ears. Across: it "
        "swings between the two. Any: turned to and fro until it touches soonest.",
        beware="It is the clamped yoke's ears that count, not those of the yoke that swings.",
    )
    turned: Turn | None = maybe(
        "How far the clamped yoke is turned from ears in line, either way, instead of ears.",
        "30 deg",
        name="turned from in line",
    )
    touches_at: Bend | None = maybe(
        "The bend at which metal met metal there.",
        "24 1/2 deg",
        datum="The angle between the two shafts' lines when metal meets metal, zero when they are "
        "in one line. A protractor between both shafts shows it.",
        beware="Against straight, not against square: a protractor that shows 155 deg means 25 "
        "deg. Bend it gently; what springs reads too much.",
    )
    clear_to: Bend | None = maybe(
        "How far it was bent there and did not touch.",
        "28 deg",
        name="clear up to",
    )
    catches_at: HeightText | None = maybe(
        "On the vehicle: the height of the axle, level and without torque, at which the shaft "
        "first catches when it is turned by hand.",
        name="catches at",
        datum="Such as 6 1/2 in droop. Level, both wheels alike, turned by hand over a whole turn.",
        beware="It has to be this joint that catches. Never turn it by the engine.",
    )
    maker_says: Bend | None = maybe(
        "The largest bend that the maker of the part states.",
        "30 deg",
        datum="What the maker prints is rounded, and often for another size of the same part: it "
        "weighs little beside a reading.",
    )
    tool: Name | None = maybe(
        "What it was read with, unless its error is typed behind the value.",
        "dial protractor",
    )
    who: Name | None = maybe("Who read it.", "counter")
    when: Day | None = maybe("When it was read.", "2026-04-11")

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell of a turn that is missing, or that says nothing, besides what every table tells."""
        yield from super().key_problems(table, path)
        dot = f"{path}." if path else ""
        said = next((key for key in cls.reads.keys if table.get(key) is not None), None)
        turn = [key for key in ("clamped", *cls.how_turned.keys) if table.get(key) is not None]
        if said in _ON_THE_BENCH:
            if turn in ([], ["clamped"]):
                yield Problem(
                    f"{dot}ears",
                    NOTHING,
                    'ears = "in line", "between", "across" or "any", or turned = "30 deg"',
                    Remark("given", what=said),
                )
        elif said is not None:
            for key in turn:
                came = as_typed(getattr(table[key], "typed", table[key]))
                yield Problem(
                    f"{dot}{key}", came, Remark("no-turn"), Remark("whole-turn", what=said)
                )

    @property
    def held(self) -> Clamped:
        """The yoke that is clamped, also where nothing is said of it."""
        return self.clamped or "shaft yoke"


BENCH: Final = field(default=(), name="Read on the bench", entry="Bench reading")
BenchReadings = Annotated[
    tuple[BenchReading, ...], several("one [[...bench]] table for each reading")
]
"""The readings of one joint."""
