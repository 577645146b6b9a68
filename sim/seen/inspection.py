"""The inspection: everything seen, measured and told of one failed joint, immutable."""

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import ConfigDict

from sim.seen.parts import (
    LONGEST_NOTE,
    Cap,
    Caps,
    Fracture,
    Mark,
    Play,
    SeenBall,
    SeenCross,
    SeenSpline,
    SeenTube,
    SeenYoke,
    SeenYokes,
)
from sim.seen.told import History, Symptoms
from sim.seen.words import CapName, OneCame, OneHeadCross, OneJoint, YokeName
from sim.table.fields import Name, one_kind, one_schema, several
from sim.table.form import field, maybe
from sim.table.part import Part

SCHEMA: int = 1
"""The schema of inspections that this program reads and writes."""
KIND: str = "inspection"


_MARKS = several("one [[marks]] table for each mark, or marks = [] for none found")


class Inspection(Part):
    """An inspection, checked as a whole: from `load_inspection` or `inspection_from_data`.

    Everything may be left out, and what is left out was not looked at.
    """

    model_config = ConfigDict(title="Bindpoint inspection")

    schema_number: Annotated[Literal[1], one_schema(SCHEMA)] = field(
        "Number of the schema this file follows.", 1, more={"alias": "schema"}
    )
    kind: Annotated[Literal["inspection"], one_kind(KIND, "no inspection")] = field(
        "What this file is, so that a rig file is told apart from it.", "inspection"
    )
    rig: Name | None = maybe(
        "The rig file of the vehicle, for your own files.",
        "my-truck.toml",
        name="rig file",
        otherwise="not said",
    )
    joint: OneJoint | None = maybe(
        "Which joint of the shaft it is.",
        "pinion",
        asks="Which joint is it?",
        datum="output: at the transfer case or transmission. pinion: at the axle. middle: at the "
        "carrier bearing of a two-piece shaft.",
        otherwise="not said",
    )
    head_cross: OneHeadCross | None = maybe(
        "Which cross of a double-Cardan head it is.",
        "outer",
        name="cross of the head",
        asks="Which cross of the head is it?",
        datum="outer: the one toward the vehicle. inner: the one toward the tube. single: the "
        "joint has one cross.",
        otherwise="not said",
    )
    came: OneCame | None = maybe(
        "How it ended, as whoever brought it tells.",
        "broke",
        name="how it ended",
        asks="Did it break, did it wear out, or does it still run?",
        datum="broke: a part came apart. wore: loose, rough or rusty, but whole. runs: brought in "
        "for a noise, a shake or play.",
        otherwise="not said",
    )
    note: str | None = maybe(
        "Anything worth knowing: who looked, when, and where the photos are.",
        "taken apart on the bench, photos 1 to 9",
        more={"max_length": LONGEST_NOTE},
        name="remark",
        asks="Anything else? In your own words.",
        otherwise="nothing",
    )
    caps: Caps | None = maybe(name="The four caps")
    yokes: SeenYokes | None = maybe(name="Both yokes")
    marks: Annotated[tuple[Mark, ...], _MARKS] | None = maybe(
        "Each mark that a yoke has from the other one, with its place; an empty list where there "
        "is none.",
        name="Marks",
        entry="Mark",
    )
    cross: SeenCross | None = maybe(name="The cross")
    fracture: Fracture | None = maybe(name="The break")
    spline: SeenSpline | None = maybe(name="The spline of the slip")
    tube: SeenTube | None = maybe(name="The tube")
    ball: SeenBall | None = maybe(name="The centering ball")
    play: Play | None = maybe(name="Play")
    history: History | None = maybe(name="History")
    symptoms: Symptoms | None = maybe(name="How it happened")

    def typed(self) -> dict[str, Any]:
        """Give what was typed, as TOML data, every quantity as its own text."""
        return self.model_dump(mode="json", by_alias=True, exclude_none=True)

    def cap(self, name: CapName) -> Cap:
        """A cap by its name; one that nothing is said of where there is none."""
        found: Cap | None = getattr(self.caps, name, None)
        return found or Cap()

    def yoke(self, name: YokeName) -> SeenYoke:
        """A yoke by its name; one that nothing is said of where there is none."""
        found: SeenYoke | None = getattr(self.yokes, name, None)
        return found or SeenYoke()

    @property
    def is_blank(self) -> bool:
        """Whether nothing was seen, measured or told."""
        return not _says(self.typed(), frozenset({"schema", "kind", "rig", "joint", "head_cross"}))


def _says(data: Mapping[str, Any], besides: frozenset[str]) -> bool:
    """Whether any key says anything; a table says what its keys do, an empty list does."""
    return any(
        _says(value, frozenset()) if isinstance(value, Mapping) else True
        for key, value in data.items()
        if key not in besides
    )
